"""Free words: what a cook says who was taught nothing."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.app.hear_text import hear_text
from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context, tonight
from assistant.grammar.free.conversation import after
from assistant.grammar.free.open_facts import OpenReading
from assistant.grammar.free.understand import understand
from assistant.grammar.numbers import spell_temperature

EVENING = tonight(3, ("apricot", "harissa"))
WORDS = (
    "bird",
    "one",
    "two",
    "thirty",
    "lid",
    "off",
    "on",
    "no",
    "not",
    "the",
    "harissa",
    "grill",
    "coals",
    "put",
    "six",
    "at",
    "wing",
    "forget",
    "when",
)


def reading(bird: int, f: float, spot: cmd.Spot | None = None) -> cmd.BirdReading:
    return cmd.BirdReading(bird, f, cmd.Said(f, "F"), spot)


@pytest.mark.parametrize(
    ("words", "facts"),
    [
        ("ok so bird two's at one eighteen", [reading(2, 118)]),
        ("the harissa one's a hundred and nine", [reading(2, 109)]),
        ("the one by the motor reads one one eight", [reading(1, 118)]),
        ("far end is a hair over one thirty", [reading(3, 130)]),
        ("middle bird one eighteen point five", [reading(2, 118.5)]),
        ("one forty in the breast on the apricot", [reading(1, 140, "breast")]),
        ("bird one one forty no wait one thirty", [reading(1, 130)]),
        ("bird two's on one thirty one", [reading(2, 131)]),
        ("what's the grill at", [cmd.AskFire()]),
        ("all three are at ninety five", [reading(1, 95), reading(2, 95), reading(3, 95)]),
        (
            "bird one one eighteen, bird two one nineteen, and I put eight on",
            [reading(1, 118), reading(2, 119), cmd.FuelAdded(8)],
        ),
        ("threw six more on each side", [cmd.FuelAdded(12)]),
        ("just tossed in a few more coals", [cmd.FuelAdded()]),
        ("opened the bottom vent a bit more", [cmd.Vents("bottom", change="more")]),
        ("grill temp three hundred and thirty", [cmd.GrillReading(330, cmd.Said(330, "F"))]),
        ("we're eating at half six", [cmd.ServeAt(390)]),
        ("bird two has been basted", [cmd.Sauced(2)]),
        ("not one thirteen, one thirty", [cmd.Correct(130, cmd.Said(130, "F"))]),
        ("i meant bird two", [cmd.Correct(bird=2)]),
        ("forget that", [cmd.Undo()]),
        (
            "could you give me a quarter of an hour on the dumplings",
            [cmd.TimerSet(15, "dumplings")],
        ),
    ],
)
def test_says_it_its_own_way(words: str, facts: list[object]) -> None:
    found = understand(words, EVENING)
    assert list(found.facts) == facts


@pytest.mark.parametrize(
    "words",
    [
        "is that one thirty already i'll need to phone you back",
        "i haven't put the lid on",
        "don't take bird one off",
        "bird two's nowhere near one thirty",
        "i'm about to take bird two off",
        "when they hit one thirty i'll sauce bird one",
        "my mother weighs one thirty you know",
        "give me your hand you silly dog",
    ],
)
def test_nothing_is_taken_from_talk_denied_or_to_come(words: str) -> None:
    found = understand(words, EVENING)
    assert found.outcome != "accept"
    assert not [one for one in found.facts if not isinstance(one, OpenReading)]


def test_a_number_without_a_bird_is_kept_until_the_bird_is_named() -> None:
    asked = understand("one eighteen", EVENING)
    assert asked.outcome == "ask" and asked.question is not None and "which bird" in asked.question
    here = after(EVENING, asked)
    for answer, bird in (("two", 2), ("the far one", 3), ("the apricot one", 1), ("one", 1)):
        assert understand(answer, here).facts == (reading(bird, 118),)


def test_the_other_spot_is_of_the_bird_just_read() -> None:
    here = after(EVENING, understand("bird two one fifty in the breast", EVENING))
    assert understand("thigh one sixty six", here).facts == (reading(2, 166, "thigh"),)
    assert understand("she's at one fifty one", here).facts == (reading(2, 151),)


def test_a_number_that_only_fits_the_other_scale_is_asked_about() -> None:
    here = after(EVENING, understand("bird one one fifty", EVENING))
    asked = understand("bird one seventy four", here)
    assert asked.outcome == "ask"
    assert cmd.BirdReading(1, 165.2, cmd.Said(74, "C")) in asked.options


def test_left_and_right_need_the_motors_side() -> None:
    assert understand("the left one is one twenty", EVENING).outcome == "ask"
    placed = Context(3, motor_side="right")
    assert understand("the left one is one twenty", placed).facts == (reading(3, 120),)


def test_a_refusal_says_what_was_understood() -> None:
    found = understand("bird two looks a bit peaky frankly", EVENING)
    assert found.outcome == "refuse" and found.help is not None and "bird 2" in found.help


def test_a_blank_line_begins_another_conversation() -> None:
    lines = ["bird two one twenty", "she is at one thirty", "", "she is at one thirty"]
    birds = [one["facts"][0]["slots"]["bird"] for one in hear_text(lines, EVENING)]
    assert birds == [2, 2, None]


@given(bird=st.integers(1, 3), number=st.integers(101, 199), way=st.sampled_from([
    "bird {b} is at {n}", "ok so bird {b}'s {n}", "got {n} on bird {b}",
    "{n} on bird {b} now please",
    "number {b} just hit {n}", "log bird {b} at about {n}",
]))  # fmt: skip
@settings(max_examples=150, deadline=None)
def test_any_reading_said_in_these_ways_is_that_reading(bird: int, number: int, way: str) -> None:
    words = way.format(b=("one", "two", "three")[bird - 1], n=spell_temperature(number))
    assert understand(words, EVENING).facts == (reading(bird, number),)


@given(st.lists(st.sampled_from(WORDS), max_size=12))  # fmt: skip
@settings(max_examples=200, deadline=None)
def test_no_words_stop_it_and_an_accepted_reading_is_of_a_bird_there_is(words: list[str]) -> None:
    found = understand(" ".join(words), EVENING)
    assert found.outcome in {"accept", "ask", "refuse"}
    if found.outcome == "accept":
        assert all(getattr(one, "bird", None) in {None, 1, 2, 3} for one in found.facts)
