"""Words to commands: the promised phrases, typed text, and one meaning each."""

import random
import time

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary.commands import Said
from assistant.grammar.grammar import Names, command_names, random_sentence
from assistant.grammar.parse import NotUnderstood, all_readings, parse
from assistant.grammar.sayback import say_back

TONIGHT = Names(3, ("apricot", "harissa", "sweet mustard"))


def reading(bird: int, number: float, spot: cmd.Spot | None = None) -> cmd.BirdReading:
    return cmd.BirdReading(bird, number, Said(number, "F"), spot)


PROMISED = {
    "bird two reads one thirty": reading(2, 130.0),
    "probe reads one thirty on bird two": reading(2, 130.0),
    "bird one breast one eighteen": reading(1, 118.0, "breast"),
    "grill is three seventy": cmd.GrillReading(370.0, Said(370.0, "F")),
    "bird one weighs five pounds eight ounces": cmd.BirdWeight(1, pounds=5.0, ounces=8.0),
    "bird two gets harissa": cmd.BirdSauce(2, "harissa"),
    "birds on": cmd.BirdsOn(),
    "bird one is on": cmd.BirdsOn(1),
    "bird one is back on": cmd.BirdsOn(1),
    "bird two is off": cmd.BirdsOff(2),
    "bird one sauced": cmd.Sauced(1),
    "added twelve briquettes": cmd.FuelAdded(12.0, "briquettes"),
    "lid off": cmd.LidOff(),
    "bottom vent two thirds": cmd.Vents("bottom", 2 / 3),
    "dinner at six thirty": cmd.ServeAt(390, vague=True),
    "remind me in ten minutes": cmd.TimerSet(10.0),
    "got it": cmd.Acknowledge(),
    "snooze five minutes": cmd.Snooze(5.0),
    "away ten minutes": cmd.AwayFor(10.0),
    "you were away for half an hour": cmd.AwayFor(30.0),
    "how long for bird two": cmd.AskWhen(2),
    "what's next": cmd.AskNext(),
    "both done": cmd.ItemDone(),
    "how are we doing": cmd.AskStatus(),
    "status": cmd.AskStatus(),
    "where are we": cmd.AskStatus(),
    "how long has it been": cmd.AskElapsed(),
    "last reading bird one": cmd.AskLast(1),
    "how is the fire": cmd.AskFire(),
    "correction one thirteen": cmd.Correct(113.0, Said(113.0, "F")),
    "scratch that": cmd.Undo(),
    "say again": cmd.Repeat(),
    "wing loose": cmd.Trouble("wing_loose"),
    "leg loose": cmd.Trouble("leg_loose"),
    "flare up": cmd.Trouble("flare_up"),
    "spit stopped": cmd.Trouble("spit_stopped"),
    "drip pan full": cmd.Trouble("drip_pan_full"),
    "start cook": cmd.StartCook(),
    "end cook": cmd.EndCook(),
    "yes": cmd.Yes(),
    "no": cmd.No(),
    "lid on": cmd.LidOn(),
    "fire lit": cmd.FireLit(),
    "added wood": cmd.WoodAdded(),
    "birds off": cmd.BirdsOff(),
    "dinner in two hours": cmd.ServeIn(120.0),
    "cancel the timer": cmd.TimerCancel(),
    "snooze": cmd.Snooze(),
    "sleep": cmd.Sleep(),
    "wake up": cmd.Wake(),
    "quieter": cmd.Quieter(),
    "louder": cmd.Louder(),
    "thermometer reads two ten in boiling water": cmd.ThermometerCheck(
        "boiling", 210.0, Said(210.0, "F")
    ),
    "guests are late twenty minutes": cmd.Hold(20.0),
    "what if the grill runs at three fifty": cmd.AskWhatIf(350.0, Said(350.0, "F")),
    "which sauce": cmd.AskSauce(),
    "how many left": cmd.AskLeft(),
    "why": cmd.AskWhy(),
    "what did i say": cmd.AskHeard(),
    "what can i say": cmd.AskHelp(),
    "first": cmd.Choose(1),
    "the second one": cmd.Choose(2),
    "quiet": cmd.Hush(),
    "read the list": cmd.ReadinessStart(),
    "done": cmd.ItemDone(),
    "skip": cmd.ItemSkip(),
    "go back": cmd.ItemBack(),
    "bird two is stuck": cmd.Trouble("bird_stuck", 2),
    "one thirteen": cmd.Number(113.0, Said(113.0, "F")),
    "bird two is resting": cmd.Rest(2),
    "birds are resting": cmd.Rest(),
    "carving": cmd.Carve(),
    "carving bird one": cmd.Carve(1),
    "what time is it": cmd.AskTime(),
    "when do the leftovers go in": cmd.AskLeftovers(),
    "the motor is on the left": cmd.MotorSide("left"),
    "added some charcoal": cmd.FuelAdded(),
    "top vent a bit less": cmd.Vents("top", change="less"),
    "correction bird two one thirteen": cmd.Correct(113.0, Said(113.0, "F"), 2),
    "i meant bird two": cmd.Correct(bird=2),
    "the fire is too hot": cmd.Trouble("fire_too_hot"),
    "it's burning": cmd.Trouble("burning"),
    "bird two is burning": cmd.Trouble("burning", 2),
    "it's windy": cmd.Trouble("wind"),
    "it's getting cold": cmd.Trouble("cold"),
    "the wind has dropped": cmd.TroubleOver("wind"),
    "the rain has stopped": cmd.TroubleOver("rain"),
    "the spit is turning again": cmd.TroubleOver("spit_stopped"),
    "the flare up is over": cmd.TroubleOver("flare_up"),
    "it's warmer again": cmd.TroubleOver("cold"),
    "vents reopened": cmd.Vents("both", change="back"),
    "bird two has no skin": cmd.BirdSkin(2, "off"),
    "bird two reads one eighteen five minutes ago": cmd.BirdReading(
        2, 118.0, Said(118.0, "F"), when=cmd.Earlier(ago=5.0)
    ),
    "added wood at six fifteen": cmd.WoodAdded(cmd.Earlier(at=375, vague=True)),
}


@pytest.mark.parametrize("words", PROMISED)
def test_promised_phrases_always_work(words: str) -> None:
    assert all_readings(words, TONIGHT) == (PROMISED[words],)


def test_every_command_has_a_promised_phrase() -> None:
    assert {type(command).NAME for command in PROMISED.values()} == set(command_names())  # type: ignore[attr-defined]


@pytest.mark.parametrize("scale", ["F", "C"])
@pytest.mark.parametrize("command", command_names())
def test_generated_sentences_mean_one_command_and_said_back_mean_the_same(
    command: str, scale: cmd.Scale
) -> None:
    rng = random.Random(f"{command} {scale}")
    for _ in range(120):
        sentence = random_sentence(rng, TONIGHT, command=command, scale=scale)
        found = all_readings(sentence, TONIGHT, scale=scale)
        assert [one.NAME for one in found] == [command], sentence
        for other in ("F", "C"):
            assert all_readings(say_back(found[0]), TONIGHT, scale=other) == found, sentence


TYPED = {
    "bird 2 reads 118": "bird two reads one eighteen",
    "Bird 2 Reads 118.5!": "bird two reads one eighteen and a half",
    "bird 1 130F": "bird one one thirty fahrenheit",
    "bird 1 reads 55 C": "bird one reads fifty five celsius",
    "bird 1 reads 55°C": "bird one reads fifty five celsius",
    "  BIRD   1\treads 100 ": "bird one reads a hundred",
    "bird 1 weighs 5 lb 8 oz": "bird one weighs five pounds eight ounces",
    "bird 1 weighs 5½ lb": "bird one weighs five and a half pounds",
    "bird 1 weighs 5 1/2 pounds": "bird one weighs five and a half pounds",
    "bird 1 weighs 2.4kg": "bird one weighs two point four kilos",
    "dinner at 6:30": "dinner at six thirty",
    "dinner at 6:30 pm": "dinner at six thirty p m",
    "dinner at 6:05 p.m.": "dinner at six oh five p m",
    "dinner at 18:30": "dinner at eighteen thirty",
    "dinner at 19:00": "dinner at nineteen hundred",
    "dinner at 7:00": "dinner at seven o'clock",
    "dinner at 06:30": "dinner at oh six thirty",
    "bottom vent 2/3": "bottom vent two thirds",
    "bottom vent ½": "bottom vent half",
    "top vent 40%": "top vent forty percent",
    "added 12 briquettes": "added twelve briquettes",
    "remind me in 1 hour": "remind me in one hour",
    "remind me in 90 min": "remind me in ninety minutes",
    "what\u2019s next?": "what's next",
    "whats next": "what's next",
    "1st": "first",
    "bird 2, reads... 130": "bird two reads one thirty",
    "lid\x00 off\x1b": "lid off",
}


@pytest.mark.parametrize("typed", TYPED)
def test_typed_text_means_what_is_said(typed: str) -> None:
    assert parse(typed, TONIGHT) == parse(TYPED[typed], TONIGHT)


TIMES = {
    "six thirty": (390, True),
    "quarter past six": (375, True),
    "quarter to one": (765, True),
    "half past twelve": (750, True),
    "twenty five to seven": (395, True),
    "seven o'clock": (420, True),
    "seven": (420, True),
    "seven tonight": (1140, False),
    "seven in the morning": (420, False),
    "twelve fifteen a m": (15, False),
    "twelve fifteen p m": (735, False),
    "noon": (720, False),
    "midnight": (0, False),
    "nineteen hundred": (1140, False),
    "twenty oh five": (1205, False),
    "twenty three fifty nine": (1439, False),
    "zero fifteen": (15, False),
}


@pytest.mark.parametrize("words", TIMES)
def test_times_of_day(words: str) -> None:
    assert parse(f"dinner at {words}", TONIGHT) == cmd.ServeAt(*TIMES[words])


SPANS = {
    "ten minutes": 10.0,
    "twenty five minutes": 25.0,
    "an hour": 60.0,
    "an hour and a half": 90.0,
    "half an hour": 30.0,
    "a quarter of an hour": 15.0,
    "one hour twenty minutes": 80.0,
    "two and a half hours": 150.0,
    "two hours and ten minutes": 130.0,
    "a minute": 1.0,
    "two point five minutes": 2.5,
    "one hundred twenty minutes": 120.0,
}


@pytest.mark.parametrize("words", SPANS)
def test_time_spans(words: str) -> None:
    assert parse(f"remind me in {words}", TONIGHT) == cmd.TimerSet(SPANS[words])


def test_celsius_is_recorded_in_fahrenheit_and_kept_as_said() -> None:
    assert parse("bird one reads fifty five celsius", TONIGHT) == cmd.BirdReading(
        1, 131.0, Said(55.0, "C")
    )
    assert parse("bird one reads fifty five", TONIGHT, scale="C") == cmd.BirdReading(
        1, 131.0, Said(55.0, "C")
    )
    assert parse("bird one reads one thirty fahrenheit", TONIGHT, scale="C") == reading(1, 130.0)


def test_a_number_outside_its_scale_is_not_taken_for_the_other() -> None:
    for words, scale in (("grill is three fifty", "C"), ("bird one reads four", "F")):
        with pytest.raises(NotUnderstood, match="a temperature"):
            parse(words, TONIGHT, scale=scale)  # type: ignore[arg-type]


def test_any_sauce_name_is_taken_where_sauces_are_open() -> None:
    def sauce(text: str) -> cmd.Command:
        return parse(text, Names(3), open_names=True)

    assert sauce("bird two gets smoky apricot") == cmd.BirdSauce(2, "smoky apricot")
    assert sauce("bird 2 gets Jalapeño glaze") == cmd.BirdSauce(2, "jalapeno")
    assert sauce("bird two gets plain") == cmd.BirdSauce(2, "plain")
    assert sauce("bird two gets no sauce") == cmd.BirdSauce(2, "plain")
    for bad in ("bird two gets a b c", "bird two gets 12", "bird two gets", "bird x gets y"):
        with pytest.raises(NotUnderstood):
            sauce(bad)
    with pytest.raises(NotUnderstood, match="a sauce named for tonight"):
        parse("bird two gets mango", Names(3))


def test_birds_beyond_tonights_are_read_so_that_the_cook_can_be_told() -> None:
    assert parse("bird seven reads one thirty", Names(2)) == reading(7, 130.0)


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        ("", "no words"),
        ("  \n\t ", "no words"),
        ("???", "no words"),
        ("please pass the salt", "'please' does not begin anything"),
        ("bird one reads", "after 'bird one reads' I expected a temperature"),
        ("bird one reads 700", "not 'seven hundred'"),
        ("bird one reads 1300", "expected a temperature .32 to 600 F., not '1300'"),
        ("bird one reads 118.375", "expected a temperature"),
        ("bird nine reads 130", "expected a number from one to eight"),
        ("dinner at 25:00", "expected a time of day, not '25:00'"),
        ("bird one weighs", "expected kilos .* or pounds"),
        ("lid off lid off", "expected how long ago .* or nothing more"),
        ("remind me in ten", "expected .*minutes"),
    ],
)
def test_what_is_not_understood_says_where_and_what_was_expected(words: str, reason: str) -> None:
    with pytest.raises(NotUnderstood, match=reason) as caught:
        parse(words, TONIGHT)
    assert "\n" not in caught.value.reason
    assert len(caught.value.reason) < 220


@given(st.text(max_size=300))
@example("9" * 190)
@example("-1" * 90)
@example("one " * 49)
@example("bird one reads " + "and " * 40)
@example("½" * 60)
@example("1:2:3/4.5.6-7")
@example("\uff11\uff13\uff10")
@example("bird one reads ٣٣")
def test_hostile_text_is_a_command_or_one_clear_line(text: str) -> None:
    try:
        line = parse(text, TONIGHT, open_names=True).NAME
    except NotUnderstood as refused:
        line = refused.reason
    assert line
    assert line.isprintable()


def test_a_megabyte_in_one_line_is_refused_at_once() -> None:
    began = time.process_time()
    for junk in ("bird " * 200_000, "9" * 1_000_000, " " * 1_000_000):
        with pytest.raises(NotUnderstood):
            parse(junk, TONIGHT)
    assert time.process_time() - began < 5.0  # a guard against hanging, not a speed claim
