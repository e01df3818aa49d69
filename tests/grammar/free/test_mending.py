"""What is mended, or told once for all, within one breath."""

import pytest

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Understood, tonight
from assistant.grammar.free.understand import understand

EVENING = tonight(3, ("apricot", "harissa"))


def _meant(words: str) -> Understood:
    return understand(words, EVENING)


def _readings(words: str) -> list[tuple[int | None, str | None, float, str]]:
    facts = _meant(words).facts
    assert all(isinstance(one, cmd.BirdReading) for one in facts), facts
    return [
        (one.bird, one.spot, one.said.number, one.said.scale)
        for one in facts
        if isinstance(one, cmd.BirdReading)
    ]


@pytest.mark.parametrize(
    ("words", "bird", "spot", "number"),
    [
        ("bird three's at one oh eight in the thigh, sorry, one eighteen", 3, "thigh", 118),
        ("bird two one fifty, no, i tell a lie, a hundred and fifty nine", 2, None, 159),
        ("bird one's one thirty, hang on, one thirty one", 1, None, 131),
        ("bird one is one thirty, no i mean bird two", 2, None, 130),
        ("bird one, er, hold on, hold on, one thirty six", 1, None, 136),
        ("hang on, glasses, right, bird one, one forty nine", 1, None, 149),
        ("erm, third one, ninety four", 3, None, 94),
        ("breast on bird two one forty, oh no, listen to me, the thigh", 2, "thigh", 140),
    ],
)
def test_a_reading_mended_as_it_is_told_is_the_mended_one(
    words: str, bird: int, spot: str | None, number: float
) -> None:
    assert _readings(words) == [(bird, spot, number, "F")]


@pytest.mark.parametrize(
    ("words", "fact"),
    [
        ("eight more coals on, no, nine", cmd.FuelAdded(9.0)),
        ("twelve minute timer for the corn, no, fifteen", cmd.TimerSet(15.0, "corn")),
        ("i've done the sauce on bird three, oh no, bird two", cmd.Sauced(2)),
    ],
)
def test_other_facts_are_mended_alike(words: str, fact: cmd.Command) -> None:
    assert _meant(words).facts == (fact,)


def test_a_second_fact_after_sorry_mends_nothing() -> None:
    words = "bird one is one thirty, sorry, and bird two is one forty"
    assert _readings(words) == [(1, None, 130, "F"), (2, None, 140, "F")]


def test_no_before_a_sauce_mends_nothing() -> None:
    assert _meant("no sauce for bird three").facts == (cmd.BirdSauce(3, "plain"),)


@pytest.mark.parametrize(
    "words",
    [
        "in celsius that's fifty five for bird one and fifty three for bird two",
        "bird one fifty five, bird two fifty three, that's celsius",
        "bird one has fifty five and bird two has fifty three celsius",
    ],
)
def test_a_scale_told_once_is_that_of_every_number(words: str) -> None:
    assert sorted(_readings(words)) == [(1, None, 55, "C"), (2, None, 53, "C")]


def test_a_grill_too_hot_for_the_scale_told_keeps_its_own() -> None:
    facts = _meant("grill three fifty, bird one fifty five celsius").facts
    grills = [one for one in facts if isinstance(one, cmd.GrillReading)]
    assert [one.said.scale for one in grills] == ["F"]
    assert [one.said for one in facts if isinstance(one, cmd.BirdReading)] == [cmd.Said(55.0, "C")]


@pytest.mark.parametrize(
    "words",
    [
        "thighs now, bird one's a hundred and sixty one, bird two's a hundred and fifty nine",
        "in the thigh, bird one's one sixty one and bird two's one fifty nine",
    ],
)
def test_a_spot_told_first_is_where_every_bird_was_read(words: str) -> None:
    assert _readings(words) == [(1, "thigh", 161, "F"), (2, "thigh", 159, "F")]


def test_two_spots_of_the_one_bird_named_last() -> None:
    words = "breast one forty one and thigh one forty eight for bird two"
    assert sorted(_readings(words)) == [(2, "breast", 141, "F"), (2, "thigh", 148, "F")]


def test_it_after_a_sauce_is_the_bird_that_gets_it() -> None:
    facts = _meant("bird three's getting harissa and it weighs five pounds").facts
    assert facts == (cmd.BirdSauce(3, "harissa"), cmd.BirdWeight(3, 5.0, None))


def test_birds_still_turning_did_not_go_on_just_now() -> None:
    assert _meant("one and three are off, two's still spinning").facts == (
        cmd.BirdsOff(1),
        cmd.BirdsOff(3),
    )


def test_a_bare_sauce_that_is_on_is_asked_about() -> None:
    found = _meant("that's the harissa on")
    assert found.outcome == "ask" and found.facts == ()
    assert found.options == (cmd.BirdsOn(2), cmd.Sauced(2))


@pytest.mark.parametrize(
    ("words", "fact"),
    [
        ("not now, ask me later", cmd.Snooze()),
        ("yep got it, on it", cmd.Acknowledge()),
        ("it is done", cmd.ItemDone()),
        ("that's us done for tonight, wrap it up", cmd.EndCook()),
        ("not sixty one, fifty one", cmd.Correct(51.0, cmd.Said(51.0, "F"))),
        ("closed the bottom vent down to a quarter", cmd.Vents("bottom", 0.25)),
        (
            "i said one thirteen but it's really one thirty",
            cmd.Correct(130.0, cmd.Said(130.0, "F")),
        ),
        ("what is the last reading on number two", cmd.AskLast(2)),
        ("stop the timer for the potatoes", cmd.TimerCancel("potatoes")),
        ("the skin on bird three is beginning to burn", cmd.Trouble("burning", 3)),
        ("i'm after throwing on twelve briquettes", cmd.FuelAdded(12.0)),
        ("give me five more minutes, please", cmd.Snooze(5.0)),
        ("i laid a piece of apple wood on the coals", cmd.WoodAdded()),
        ("half a chimney of lit charcoal went in just now", cmd.FuelAdded(0.5, "chimney")),
        ("they've been held up, so put dinner back half an hour", cmd.Hold(30.0)),
        ("i'm just taking the lid off for a sec", cmd.LidOff()),
        ("done the saucing on the whole lot", cmd.Sauced(None)),
        ("six briquettes each side, so that's twelve gone on", cmd.FuelAdded(12.0)),
    ],
)
def test_said_this_way_it_means_one_thing(words: str, fact: cmd.Command) -> None:
    assert _meant(words).facts == (fact,)


@pytest.mark.parametrize(
    ("words", "facts"),
    [
        (
            "bird two is six and a half pounds, and it stays plain",
            (cmd.BirdWeight(2, 6.5, None), cmd.BirdSauce(2, "plain")),
        ),
        (
            "i took bird two off there, it was a hundred and sixty five",
            (cmd.BirdsOff(2), cmd.BirdReading(2, 165.0, cmd.Said(165.0, "F"))),
        ),
        ("bird two is off and having a rest", (cmd.BirdsOff(2), cmd.Rest(2))),
        (
            "three thirty on the grill, the fire's a bit weak",
            (cmd.GrillReading(330.0, cmd.Said(330.0, "F")), cmd.Trouble("fire_dying")),
        ),
        ("i've one and two sauced, the third is grand as it is", (cmd.Sauced(1), cmd.Sauced(2))),
    ],
)
def test_nothing_of_a_breath_is_passed_over(words: str, facts: tuple[cmd.Command, ...]) -> None:
    assert _meant(words).facts == facts


@pytest.mark.parametrize(
    "words",
    [
        "from the motor end, one twenty nine, one thirty three, one twenty six",
        "here are my three numbers in order, one twenty nine, one thirty three, one twenty six",
        "birds one to three in that order, one twenty nine, one thirty three, one twenty six",
    ],
)
def test_numbers_in_order_are_of_the_birds_in_order(words: str) -> None:
    wanted = [(1, None, 129, "F"), (2, None, 133, "F"), (3, None, 126, "F")]
    assert _readings(words) == wanted


def test_and_so_is_another_bird() -> None:
    words = "bird two is at one fifteen and so is bird three"
    assert sorted(_readings(words)) == [(2, None, 115, "F"), (3, None, 115, "F")]


def test_a_question_to_somebody_else_is_none_of_ours() -> None:
    assert _meant("what time did your daughter get in from spain").outcome == "refuse"
