"""What is said: short, plain, one sentence for everything that can be decided or be due."""

import ast
import re
from collections.abc import Iterable
from dataclasses import replace
from pathlib import Path

import pytest

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.due import Prompt
from assistant.cook.rules.fold import apply
from assistant.cook.rules.readiness import ITEMS
from assistant.cook.state import Cook
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import prompts as due_
from assistant.cook.vocabulary.commands import Said
from assistant.cook.vocabulary.refusals import Refusal
from assistant.grammar.grammar import ADDRESS, Names
from assistant.grammar.parse import parse
from assistant.heat.bird.evidence import BirdForecast, Quantiles
from assistant.sentences import all as sentences
from assistant.sentences import fire, readying
from assistant.sentences.all import Sentence
from assistant.sentences.phrasing import about, dinner, listed, place, span

START = 1_790_524_800.0  # 2026-09-27 16:00 UTC
NAMES = Names(3, ("apricot", "harissa"))
COOK = Path(__file__).parents[2] / "assistant" / "cook"
WORDS = (COOK.parent / "sentences", COOK.parent / "grammar")


class Evening:
    """A cook told in words, minute by minute; keeps the last decision and sentence."""

    def __init__(self, scale: cmd.Scale = "F") -> None:
        self.scale = scale
        self.state = Cook()
        self.seq = 0
        self.record(START, ev.CookBegan(birds=3, scale=scale))

    def record(self, at_s: float, *events: ev.Event) -> None:
        for event in events:
            self.seq += 1
            self.state = apply(self.state, ev.Recorded(self.seq, at_s, event))

    def say(self, minute: float, words: str, *, stressed: bool = False) -> Sentence:
        at_s = START + 60 * minute
        decision: Decision = decide(self.state, parse(words, NAMES, scale=self.scale), at_s)
        before = self.state
        match decision:
            case Record(events):
                self.record(at_s, *events)
                return sentences.read_back(decision, before, self.state, stressed=stressed)
            case AskBack(options, why):
                self.record(at_s, ev.AskedBack(options, why))
                return sentences.ask_back(decision, self.state)
        if isinstance(decision, Refusal):
            return sentences.refusal(decision, self.state)
        assert not isinstance(decision, ans.SayAgain | ans.StopSpeech)
        return sentences.answer(decision, self.state)


def cooking() -> Evening:
    evening = Evening()
    for minute, words in (
        (1, "fire lit"),
        (2, "bird one weighs five pounds"),
        (3, "bird one gets apricot"),
        (3, "bird two gets harissa"),
        (3, "bird three gets plain"),
        (20, "grill is three seventy"),
        (25, "birds on"),
    ):
        evening.say(minute, words)
    return evening


SAID = [
    (40, "lid off", "Lid off."),
    (40, "grill is three thirty", "Grill 330. 20 under the band."),
    (40, "grill is four ten", "Grill 410. 10 over the band."),
    (40, "bird one weighs five pounds eight ounces", "Bird 1, 5 lb 8 oz."),
    (40, "bird one weighs two point four kilos", "Bird 1, 2.4 kg."),
    (40, "added a chimney", "1 chimney on."),
    (40, "added half a chimney", "Half a chimney on."),
    (40, "bottom vent two thirds", "Bottom vent 2/3."),
    (40, "dinner at six thirty", "Dinner at 6:30 in the evening."),
    (40, "dinner in two hours", "Dinner at 6:40 in the evening."),
    (40, "set a rice timer for twenty minutes", "Rice timer, 20 minutes."),
    (40, "remind me in an hour and a half", "Timer, 1 hour 30 minutes."),
    (40, "hold dinner", "Holding 15 minutes. Bottom vent a notch down; the grill not under 325."),
    (40, "bird one is off", "Bird 1 off. Birds 2 and 3 count as still on."),
    (40, "which sauce for bird two", "Bird 2 harissa."),
    (40, "which sauces", "Bird 1 apricot, bird 2 harissa and bird 3 plain."),
    (40, "how long has it been", "15 minutes since the first bird went on."),
    (40, "last reading", "No readings yet."),
    (40, "lid on", "The lid is on already."),
    (40, "bird one is on", "Bird 1 is on already."),
    (40, "yes", "I asked nothing."),
    (40, "got it", "Nothing is waiting for an answer."),
    (40, "go to sleep", "Standing by; timers and take-off calls still speak. Say: listen again."),
    (40, "end cook", "Birds 1, 2 and 3 are not read and still on. End?"),
    (40, "bird five is on", "There are 3 birds tonight, no bird 5."),
    (40, "added zero briquettes", "None added, so nothing noted."),
    (40, "added five hundred briquettes", "500 is more than a grill holds. Nothing noted."),
    (40, "cancel the rice timer", "No rice timer is running."),
    (40, "bird one weighs zero pounds", "No bird weighs that. Say it again."),
    (40, "bird one reads five fifty", "No meat reads 550. Read it again."),
    (130, "dinner at six", "That time has gone by. Say another one."),
]


@pytest.mark.parametrize(("minute", "words", "said"), SAID)
def test_what_is_said(minute: float, words: str, said: str) -> None:
    assert cooking().say(minute, words).text == said


def test_a_reading_is_read_back_at_once_and_slowly_where_it_was_unclear() -> None:
    evening = cooking()
    plain = evening.say(70, "bird two thigh ninety eight")
    assert plain.text.startswith("Bird 2 thigh, 98. Sauce about 5:")
    assert plain.spoken.startswith("Bird two thigh, ninety eight. Sauce about five")
    slow = evening.say(80, "bird two breast one eighteen", stressed=True)
    assert slow.text.startswith("Bird 2 breast, 118.")
    assert slow.spoken.startswith("Bird two breast, one one eight.")
    assert evening.say(81, "last reading bird two").text == "Bird 2 breast, 118, 1 minute ago."


def test_an_undo_and_a_correction_name_what_they_change() -> None:
    evening = cooking()
    evening.say(70, "bird two reads ninety eight")
    assert evening.say(70, "correction ninety").text == "Corrected: bird 2, 90."
    assert evening.say(71, "added twelve briquettes").text == "12 briquettes on."
    assert evening.say(71, "scratch that").text == "Taken back: 12 briquettes."
    assert evening.say(72, "correction").text.endswith("Say the number again.")


def test_the_grounds_of_a_question_are_said_with_it() -> None:
    evening = cooking()
    evening.say(70, "bird one reads one hundred")
    asked = evening.say(75, "bird one reads one ninety")
    assert asked.text.startswith("It was 100. Bird 1")
    assert "190" in asked.text
    assert asked.text.endswith("?")


def reading(number: float, bird: int = 1) -> cmd.BirdReading:
    return cmd.BirdReading(bird, number, Said(number, "F"))


@pytest.mark.parametrize(
    ("ask", "text", "spoken"),
    [
        (
            AskBack((reading(113.0), reading(130.0)), "unclear"),
            "Bird 1: 113 or 130?",
            "Bird one: one thirteen or one thirty?",
        ),
        (
            AskBack((reading(130.0, 1), reading(130.0, 2)), "unclear"),
            "130: which bird, 1 or 2?",
            "one thirty: which bird, one or two?",
        ),
        (AskBack((cmd.LidOff(), cmd.LidOn()), "unclear"), "Lid off or lid on?", None),
        (
            AskBack((reading(130.0),), "too_hot"),
            "Too hot for meat. Bird 1, 130, is that right?",
            "Too hot for meat. Bird one, one thirty, is that right?",
        ),
    ],
)  # fmt: skip
def test_questions_are_short(ask: AskBack, text: str, spoken: str | None) -> None:
    asked = sentences.ask_back(ask, Cook())
    assert asked.text == text
    assert spoken is None or asked.spoken == spoken


def test_a_spot_that_lags_is_named_and_one_spot_is_not_enough() -> None:
    evening = cooking()
    evening.say(60, "bird three breast one twenty")
    evening.say(85, "bird three breast one fifty eight")
    thigh = evening.say(90, "bird three thigh one sixty six")
    assert thigh.text == "Bird 3 thigh, 166. The breast still has to get there."
    due = Prompt(due_.TakeOff(3), ("1",), "now", START)
    evening.say(95, "bird three breast one sixty eight")
    both = sentences.prompt((due,), evening.state, START)
    assert both.text.startswith("Bird 3, far end, reads 165 or more at both spots.")
    single = cooking()
    for minute, number in ((60, "one twenty"), (80, "one forty five"), (95, "one sixty six")):
        single.say(minute, f"bird three breast {number}")
    assert sentences.prompt((due,), single.state, START).text.endswith(
        "reads 165 or more at one spot. Read the thigh, then off."
    )


def test_celsius_kitchens_hear_celsius() -> None:
    evening = Evening("C")
    evening.say(1, "fire lit")
    evening.say(2, "birds on")
    assert evening.say(30, "bird one reads thirty eight").text.startswith("Bird 1, 38. ")
    assert evening.say(30, "grill is one sixty").text == "Grill 160. 17 under the band."
    assert evening.say(31, "last reading").text == "Bird 1, 38, 1 minute ago."
    assert evening.say(32, "grill is three seventy fahrenheit").text == "Grill 370 F."


def test_a_thermometers_error_is_said_once_and_then_with_each_number() -> None:
    evening = cooking()
    checked = evening.record
    checked(START + 1700, ev.ThermometerChecked("boiling", 210.0, Said(210.0, "F"), 2.0))
    assert evening.say(60, "bird one reads ninety").text.startswith("Bird 1, 90, corrected 92. ")


def test_things_due_together_are_one_sentence() -> None:
    evening = cooking()
    evening.say(30, "lid off")
    due = (
        Prompt(due_.LookDue(1, "first"), ("0",), "convenient", START),
        Prompt(due_.TimerUp("rice"), ("1",), "now", START),
        Prompt(due_.LidOpen(), ("1",), "now", START),
    )
    said = sentences.prompt(due, evening.state, START + 60 * 34)
    assert said.text == (
        "Time for a first reading of bird 1. Rice timer is up. Lid off for 4 minutes. Put it on."
    )
    two = tuple(Prompt(due_.Sauce(n), (), "soon", START) for n in (1, 2))
    both = sentences.prompt(two, evening.state, START)
    assert both.text == (
        "One stop: lift the spit out, sauce bird 2 harissa, then bird 1 apricot, back on."
    )
    one = sentences.prompt(two[:1], evening.state, START, late_s=720.0)
    assert one.text == "12 minutes late. Sauce now: bird 1, motor end, apricot."


NOT_TOLD = Quantiles(None, None, None)
PROMPTS: list[tuple[due_.About, str]] = [
    (due_.Refuel(6, START + 3900.0),
     "The fire may sag in about 25 minutes: a handful of charcoal now, or read the dial in ten."),
    (due_.Refuel(12, START + 2400.0),
     "The fire may stay low: two handfuls of charcoal now, or read the dial in ten."),
    (due_.TurnVent("open", 0.25, START + 3000.0),
     "The fire may sag in about 10 minutes: bottom vent a quarter further open,"
     " or read the dial in ten."),
    (due_.TurnVent("close", 0.5, START + 2400.0),
     "The fire may stay hot: bottom vent a half further shut, or read the dial in ten."),
    (due_.VentsUntold(), "How far open are the vents, bottom and top?"),
    (due_.GrillUnread(), "What does the grill read?"),
    (due_.Stuck(1), "Hardly any change: bird 1. Read another spot, then the grill."),
    (due_.Coat(1), "A second coat would still set: bird 1."),
    (due_.SauceLast(1), "Last call for sauce: bird 1, motor end, apricot."),
    (due_.KeepHot(1), "Bird 1 has rested. Keep it above 140 for the others."),
    (due_.Carve((1, 2)), "Rested. Carve birds 1 and 2, on a clean board."),
    (due_.Chill(START + 9000.0), "Leftovers into the cold by 6:30."),
    (due_.DinnerMoved(20, Quantiles(0, START + 12000, 0), open_vent=True),
     "Dinner looks 20 minutes late; open the bottom vent or eat at 7:20."),
    (due_.DinnerMoved(-15, NOT_TOLD, open_vent=False),
     "Dinner looks 15 minutes early: rest them longer under foil, above 140."),
    (due_.DinnerMoved(0, NOT_TOLD, open_vent=False), "Dinner is back on time."),
    (due_.DinnerMoved(-5530, NOT_TOLD, open_vent=False),
     "Dinner is told for another day. If it is tonight, say when."),
    (due_.ListDue(), "Time for the readiness list. Say: read the list."),
    (due_.LightDue(),
     "Time to light the charcoal, outdoors only: it gives off carbon monoxide."),
    (due_.BirdsOnDue((1, 2)), "Time for birds 1 and 2 over the fire."),
    (due_.TimerUp(None), "Your timer is up."),
    (due_.LookDue(1, "done"), "Read bird 1, breast and thigh; it may be near done."),
]  # fmt: skip


@pytest.mark.parametrize(("about_", "said"), PROMPTS)
def test_prompts_say_what_to_do(about_: due_.About, said: str) -> None:
    due = Prompt(about_, ("1",), "soon", START)
    assert sentences.prompt((due,), cooking().state, START + 2400.0).text == said
    nexts = sentences.answer(ans.Next((due,), START), cooking().state)
    assert nexts.text.startswith("Next: ")


def test_a_brush_that_met_raw_poultry_is_named_once_and_its_sauce_at_the_end() -> None:
    evening = cooking()
    evening.say(80, "bird one reads one thirty")
    first = evening.say(82, "bird one sauced")
    assert first.text.endswith("That brush met raw poultry; a clean one once they are done.")
    assert "brush" not in evening.say(83, "bird two sauced").text
    due = Prompt(due_.Chill(START + 9000.0), ("1",), "soon", START)
    assert "Sauce the brush" in sentences.prompt((due,), evening.state, START).text


def quantiles(low: float, middle: float | None, high: float | None) -> Quantiles:
    def at(minute: float | None) -> float | None:
        return None if minute is None else START + 60 * minute

    return Quantiles(at(low), at(middle), at(high))


@pytest.mark.parametrize(
    ("times", "words"),
    [
        (quantiles(182, 190, 198), "about 7:10, give or take 8 minutes"),
        (quantiles(189.8, 190, 190.3), "about 7:10, give or take a minute"),
        (quantiles(170, 191, 215), "about 7:10, give or take 25 minutes"),
        (quantiles(182, 190, None), "about 7:10, maybe much later"),
        (quantiles(182, None, None), "not in sight as the fire is"),
    ],
)
def test_spreads_are_in_plain_words(times: Quantiles, words: str) -> None:
    assert about(times, "UTC") == words


def test_answers_about_time_carry_their_spread() -> None:
    forecast = BirdForecast(
        2, quantiles(140, 145, 150), quantiles(182, 190, 198), (40.0, 45.0, 50.0), 0.1, 0.0,
        (("grill", 0.7), ("probe", 0.3)),
    )  # fmt: skip
    row = ans.WhenRow(2, "sauce", forecast, is_done=False)
    when = ans.When((row,))
    state = cooking().state
    assert sentences.answer(when, state).text == (
        "Bird 2: sauce about 6:25, done about 7:10, give or take 8 minutes."
    )
    later = ans.When((replace(row, mark="done"),))
    assert sentences.answer(later, state).spoken == (
        "Bird two done about seven ten, give or take eight minutes."
    )
    why = sentences.answer(ans.WhySpread((forecast,)), state)
    assert why.text == (
        "Bird 2 somewhere from 104 to 122. Most of the doubt is how hot the grill runs."
        " A grill reading would narrow it."
    )
    what_if = ans.WhatIf(400.0, (ans.Change(2, -720.0),))
    assert sentences.answer(what_if, state).text == (
        "With the grill at 400: bird 2 12 minutes sooner."
    )


def test_help_fits_the_moment() -> None:
    evening = Evening()
    assert "fire lit" in sentences.help_now(evening.state).text
    assert "how long for bird 1" in sentences.help_now(cooking().state).text
    asked = replace(cooking().state, pending=None)
    assert "yes, no" not in sentences.help_now(asked).text


# By trouble: where it can hurt, and what is to be told next.
CAUTIONS: dict[cmd.TroubleKind, tuple[str, str]] = {
    "wing_loose": ("hot metal", "lid on"), "leg_loose": ("hot metal", "lid on"),
    "spit_stopped": ("hot metal", "both sides"), "flare_up": ("never water", "the grill"),
    "drip_pan_full": ("hot fat", "lid on"), "fire_dying": ("outdoors", "the grill"),
    "rain": ("outdoors", "the grill"), "bird_stuck": ("", "another spot"),
    "thermometer_doubted": ("ice water", "Tell me"),
    "fire_too_hot": ("hot metal", "the grill"), "burning": ("hot metal", "the grill"),
    "wind": ("Lid on", "the grill"), "cold": ("", "the grill"),
}  # fmt: skip


def test_each_readiness_item_and_each_trouble_has_its_words() -> None:
    assert set(readying.ITEMS) == {item.key for item in ITEMS}
    state = cooking().state
    for kind, text in fire.ADVICE.items():
        caution, asked = CAUTIONS[kind]  # type: ignore[index]
        assert caution in text
        assert asked in text
        assert len(re.findall(r"[.]( |$)", text)) <= 2
        record = Record((ev.TroubleNoted(kind, 2),), cmd.Trouble(kind, 2))  # type: ignore[arg-type]
        assert "Bird 2. " in sentences.read_back(record, state, state).text


def word_files() -> list[Path]:
    return [path for room in WORDS for path in sorted(room.glob("*.py"))]


def calls(name: str, at: int) -> set[str]:
    """String constants given to `name(...)` at position `at` anywhere in the cook."""
    found = set()
    for path in COOK.glob("*.py"):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == name:
                given = node.args[at : at + 1]
                found |= {
                    one.value
                    for one in given
                    if isinstance(one, ast.Constant) and isinstance(one.value, str)
                }
    return found


def words_written(paths: Iterable[Path]) -> list[str]:
    """Every string in these files that is no documentation."""
    found: list[str] = []
    for path in paths:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        docs = {ast.get_docstring(node, clean=False) for node in ast.walk(tree)
                if isinstance(node, ast.Module | ast.FunctionDef | ast.ClassDef)}  # fmt: skip
        found += [
            node.value
            for node in ast.walk(tree)
            if isinstance(node, ast.Constant)
            and isinstance(node.value, str)
            and node.value not in docs
        ]
    return found


def test_nothing_ever_says_that_food_is_safe() -> None:
    spoken = words_written(word_files())
    assert len(spoken) > 500
    assert not [one for one in spoken if re.search(r"\bsafe(ly)?\b", one)]


def test_nothing_it_says_holds_the_word_that_wakes_it() -> None:
    """What is only printed may: the day's list, its calendar, the card."""
    printed = {"dinner_list.py", "dinner_text.py", "calendar_file.py", "card.py", "fridge_page.py"}
    files = [path for path in WORDS[0].glob("*.py") if path.name not in printed]
    assert len(words_written(files)) > 400
    assert not [one for one in words_written(files) if ADDRESS in one.lower()]


def test_small_pieces() -> None:
    assert listed([1]) == "1"
    assert listed([1, 2, 3]) == "1, 2 and 3"
    assert [span(s) for s in (10, 60, 600, 3600, 4800)] == [
        "under a minute", "1 minute", "10 minutes", "1 hour", "1 hour 20 minutes",
    ]  # fmt: skip
    eight = Cook(expected_birds=8)
    assert [place(n, eight) for n in (1, 2, 8)] == [
        "motor end", "second from the motor", "far end",
    ]  # fmt: skip
    assert place(2, Cook(expected_birds=3)) == "middle"
    assert dinner(START + 3 * 3600, "America/Chicago") == "2:00 in the afternoon"
    assert sentences.came_back(Cook(), 600.0).text == (
        "Back after 10 minutes. I have everything up to then."
    )
    news = sentences.journal_news("memory_only", "disk full: going on in memory")
    assert news.spoken == "I can't write the journal. Going on in memory."


def test_the_readiness_list_is_read_item_by_item_with_its_cautions() -> None:
    evening = Evening()
    said = [evening.say(0, "read the list").text]
    said += [evening.say(1, "done").text for _ in ITEMS]
    assert said == [
        "Thermometer: 212 in boiling water, or 32 in ice water. Tell me what it reads.",
        "Birds dry and seasoned. Wash your hands after raw poultry.",
        "Legs and wings tied tight.",
        "Forks facing each other, pushed in hard, screws tight.",
        "Balance: turn the spit by hand; no side may drop.",
        "Drip pan in the middle, under the birds.",
        "Charcoal on both sides, and outdoors only: it gives off carbon monoxide.",
        "Grill thermometer away from the coals.",
        "Gloves at hand. Spit and lid will burn you.",
        "Spare string within reach.",
        "A clean plate and a second brush, away from raw poultry.",
        "That was the list.",
    ]
    assert evening.say(2, "go back").text == "No list is open. Say: read the list."
    evening.say(3, "read the list")
    assert evening.say(3, "skip").text == said[1]
    assert evening.say(3, "go back").text == said[0]
    checked = evening.say(4, "thermometer reads two ten in boiling water")
    assert checked.text == (
        "Thermometer 210 in boiling water. That's 2 low, so I add 2 from now on. " + said[1]
    )
    doubtful = evening.say(5, "thermometer reads one fifty in boiling water")
    assert doubtful.text == "That should be near 212. Stir, wait, read again."
