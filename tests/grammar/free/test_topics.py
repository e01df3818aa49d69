"""A cook's own words, topic by topic: each line is one way that people put it."""

import pytest

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import tonight
from assistant.grammar.free.open_facts import OpenReading
from assistant.grammar.free.understand import understand

EVENING = tonight(3, ("apricot", "harissa"))


def read(bird: int, f: float, spot: cmd.Spot | None = None) -> cmd.BirdReading:
    return cmd.BirdReading(bird, f, cmd.Said(f, "F"), spot)


def grill(f: float, number: float | None = None, scale: cmd.Scale = "F") -> cmd.GrillReading:
    return cmd.GrillReading(f, cmd.Said(number if number is not None else f, scale))


BIRDS = [
    ("the apricot one reads one fifty two in the thigh", read(1, 152, "thigh")),
    ("pulled bird three at one sixty five", read(3, 165)),
    ("the second bird weighs four and a half pounds", cmd.BirdWeight(2, 4.5)),
    ("bird one weighs two point two kilos", cmd.BirdWeight(1, kilograms=2.2)),
    ("bird one is five pounds six", cmd.BirdWeight(1, 5.0, 6.0)),
    ("bird one gets harissa", cmd.BirdSauce(1, "harissa")),
    ("i brushed the far one", cmd.Sauced(3)),
    ("sauced them all", cmd.Sauced(None)),
    ("sauced bird one with apricot", cmd.Sauced(1)),
    ("the birds have gone on", cmd.BirdsOn(None)),
    ("bird two is off", cmd.BirdsOff(2)),
    ("everything is off", cmd.BirdsOff(None)),
]
FIRE = [
    ("took the lid off", cmd.LidOff()),
    ("lid's back on", cmd.LidOn()),
    ("chucked in half a chimney", cmd.FuelAdded(0.5, "chimney")),
    ("another chimney went in", cmd.FuelAdded(1.0, "chimney")),
    ("threw on eight coals", cmd.FuelAdded(8.0)),
    ("six on the left and six on the right", cmd.FuelAdded(12.0)),
    ("a few more coals on each side", cmd.FuelAdded()),
    ("put in some lump", cmd.FuelAdded(kind="lump")),
    ("five lumps", cmd.FuelAdded(5.0, "lump")),
    ("tossed in a chunk of hickory", cmd.WoodAdded()),
    ("opened the bottom vent a bit", cmd.Vents("bottom", change="more")),
    ("cracked the bottom vent", cmd.Vents("bottom", change="more")),
    ("closed the top vent halfway", cmd.Vents("top", 0.5)),
    ("top vent a quarter open", cmd.Vents("top", 0.25)),
    ("bottom vent shut", cmd.Vents("bottom", 0.0)),
    ("both vents wide open", cmd.Vents("both", 1.0)),
    ("grill says three seventy", grill(370)),
    ("three eighty on the dial", grill(380)),
    ("it is four hundred in there", grill(400)),
    ("the grill is between three fifty and three seventy", grill(360)),
    ("grill is at one ninety celsius", grill(374, 190, "C")),
]
DINNER = [
    ("dinner is at seven", cmd.ServeAt(420, vague=True)),
    ("we eat at six thirty", cmd.ServeAt(390, vague=True)),
    ("we're eating at eighteen thirty", cmd.ServeAt(1110, vague=False)),
    ("dinner in ninety minutes", cmd.ServeIn(90.0)),
    ("dinner is twenty minutes late", cmd.Hold(20.0)),
    ("guests are half an hour late", cmd.Hold(30.0)),
    ("set a timer for ten minutes", cmd.TimerSet(10.0)),
    (
        "remind me in a quarter of an hour to turn the potatoes",
        cmd.TimerSet(15.0, "potatoes"),
    ),
    ("stop the timer", cmd.TimerCancel()),
]
ASKED = [
    ("what's bird two at", cmd.AskLast(2)),
    ("when can we eat", cmd.AskWhen()),
    ("is it done yet", cmd.AskWhen()),
    ("should i add coals", cmd.AskFire()),
    ("how hot is the grill", cmd.AskFire()),
]
TROUBLE = [
    ("the wing came loose", cmd.Trouble("wing_loose")),
    ("fat is on fire", cmd.Trouble("flare_up")),
    ("it started to rain", cmd.Trouble("rain")),
    ("the spit stopped turning", cmd.Trouble("spit_stopped")),
    ("the fire is dying", cmd.Trouble("fire_dying")),
    ("the drip pan is full", cmd.Trouble("drip_pan_full")),
    ("the skin is burning", cmd.Trouble("burning")),
    ("bird two is stuck", cmd.Trouble("bird_stuck", 2)),
    ("i don't trust the thermometer", cmd.Trouble("thermometer_doubted")),
]
TALK = [
    ("what did you say", cmd.Repeat()),
    ("never mind", cmd.Undo()),
    ("forget it", cmd.Undo()),
    ("okay", cmd.Acknowledge()),
    ("thanks", cmd.Acknowledge()),
    ("go to sleep", cmd.Sleep()),
    ("be quiet", cmd.Hush()),
    ("yes", cmd.Yes()),
    ("no", cmd.No()),
    ("the first one", cmd.Choose(1)),
]


@pytest.mark.parametrize(
    ("words", "fact"), [*BIRDS, *FIRE, *DINNER, *ASKED, *TROUBLE, *TALK], ids=str
)
def test_one_thing_said_in_ones_own_words_is_that_one_fact(words: str, fact: cmd.Command) -> None:
    understood = understand(words, EVENING)
    assert (understood.outcome, understood.facts) == ("accept", (fact,))


def test_a_number_for_each_bird_goes_from_the_motor_outwards() -> None:
    understood = understand("they read one ten one twelve and one fifteen", EVENING)
    assert understood.facts == (read(1, 110), read(2, 112), read(3, 115))


def test_two_numbers_for_three_birds_are_not_dealt_out() -> None:
    understood = understand("they read one ten and one twelve", EVENING)
    assert understood.outcome != "accept"


@pytest.mark.parametrize(
    ("words", "facts"),
    [
        (
            "bird one is five pounds six and bird two four pounds",
            (cmd.BirdWeight(1, 5.0, 6.0), cmd.BirdWeight(2, 4.0)),
        ),
        (
            "lid's back on and i threw on eight coals",
            (cmd.LidOn(), cmd.FuelAdded(8.0)),
        ),
        (
            "took the lid off and brushed the far one",
            (cmd.LidOff(), cmd.Sauced(3)),
        ),
    ],
)
def test_two_facts_of_one_breath_are_both_taken(words: str, facts: tuple[cmd.Command, ...]) -> None:
    understood = understand(words, EVENING)
    assert (understood.outcome, understood.facts) == ("accept", facts)


@pytest.mark.parametrize("words", ["one eighteen", "it says one eighteen not one eighty"])
def test_a_number_of_no_bird_is_asked_about(words: str) -> None:
    understood = understand(words, EVENING)
    assert understood.outcome == "ask"
    assert understood.facts == (OpenReading(118.0, cmd.Said(118.0, "F"), None),)


def test_a_spot_without_a_bird_keeps_its_spot_while_the_bird_is_asked() -> None:
    understood = understand("breast is at one fifty", EVENING)
    assert understood.outcome == "ask"
    assert understood.facts == (OpenReading(150.0, cmd.Said(150.0, "F"), "breast"),)


def test_a_bird_between_two_numbers_is_asked_for_one() -> None:
    """Of the grill the middle will do; of a bird the lower one matters."""
    understood = understand("bird two is between one twenty and one thirty", EVENING)
    assert (understood.outcome, understood.facts) == ("ask", ())


@pytest.mark.parametrize(
    ("words", "part"),
    [
        ("five pounds", "five pounds"),
        ("it's eighteen degrees", "eighteen degrees"),
        ("bird nine reads one eighteen", "nine"),
    ],
)
def test_half_a_fact_is_refused_with_the_half_that_was_understood(words: str, part: str) -> None:
    understood = understand(words, EVENING)
    assert (understood.outcome, understood.facts) == ("refuse", ())
    assert understood.help is not None
    assert part in understood.help


def test_talk_at_the_table_is_nothing() -> None:
    understood = understand("nobody likes football", EVENING)
    assert (understood.outcome, understood.facts, understood.help) == ("refuse", (), None)
