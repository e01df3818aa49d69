"""What happened before it is told, in words of the cook's own."""

import pytest

from assistant.cook.vocabulary.commands import (
    BirdReading,
    BirdSkin,
    BirdsOn,
    Earlier,
    FireLit,
    FuelAdded,
    GrillReading,
    LidOff,
    Said,
    Sauced,
    Trouble,
    TroubleOver,
    Vents,
    WoodAdded,
)
from assistant.grammar.free.context import Context
from assistant.grammar.free.earlier import AS_OF_NOW, HOW_LONG, NOT_YET
from assistant.grammar.free.understand import understand

AT_615 = Earlier(at=375, vague=True)


def reading(bird: int, temperature_f: float, when: Earlier | None) -> BirdReading:
    """A reading of a bird, without a spot."""
    return BirdReading(bird, temperature_f, Said(temperature_f, "F"), when=when)


@pytest.mark.parametrize(
    ("words", "fact"),
    [
        ("I put the birds on about ten minutes ago", BirdsOn(when=Earlier(ago=10.0))),
        ("about five minutes ago I put the birds on", BirdsOn(when=Earlier(ago=5.0))),
        ("the birds have been on since six fifteen", BirdsOn(when=AT_615)),
        ("we lit the coals twenty minutes ago", FireLit(when=Earlier(ago=20.0))),
        ("chucked on a dozen briquettes ten minutes ago", FuelAdded(12.0, when=Earlier(ago=10.0))),
        ("took the lid off a couple of minutes ago", LidOff(when=Earlier(ago=2.0))),
        ("bird one read one eighteen five minutes ago", reading(1, 118.0, Earlier(ago=5.0))),
        ("bird one read one eighteen at six fifteen", reading(1, 118.0, AT_615)),
        ("bird one was at one fifty", reading(1, 150.0, None)),
        (
            "the grill was three seventy ten minutes ago",
            GrillReading(370.0, Said(370.0, "F"), Earlier(ago=10.0)),
        ),
        ("put some wood on ten minutes ago", WoodAdded(Earlier(ago=10.0))),
        ("it started raining at six fifteen", Trouble("rain", when=AT_615)),
        ("got windy ten minutes ago", Trouble("wind", when=Earlier(ago=10.0))),
        ("wind died down five minutes ago", TroubleOver("wind", Earlier(ago=5.0))),
        ("it stopped raining five minutes ago", TroubleOver("rain", Earlier(ago=5.0))),
        ("got the motor going again", TroubleOver("spit_stopped")),
        ("flames are out now", TroubleOver("flare_up")),
        ("I reopened the vents two minutes ago", Vents("both", None, "back", Earlier(ago=2.0))),
        ("the second one has no skin", BirdSkin(2, "off")),
        ("I sauced the second one ten minutes ago", Sauced(2, when=Earlier(ago=10.0))),
    ],
)
def test_a_fact_takes_the_time_told_with_it(words: str, fact: object) -> None:
    understood = understand(words, Context(birds=2))
    assert (understood.outcome, understood.facts) == ("accept", (fact,))


@pytest.mark.parametrize(
    ("words", "help_"),
    [
        ("dinner at seven ten minutes ago", AS_OF_NOW),
        ("bird one reads one eighteen in five minutes", NOT_YET),
        ("a few minutes ago I put the birds on", HOW_LONG),
    ],
)
def test_what_cannot_be_dated_is_not_taken_as_of_now(words: str, help_: str) -> None:
    understood = understand(words, Context(birds=2))
    assert (understood.outcome, understood.facts, understood.help) == ("refuse", (), help_)


def test_a_question_about_the_past_stays_a_question() -> None:
    understood = understand("what did bird one read ten minutes ago", Context(birds=2))
    assert [fact.NAME for fact in understood.facts] == ["ask_last"]
