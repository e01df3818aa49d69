"""Commands to decisions."""

import pytest

from assistant.cook.rules.decision import AskBack, Record
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer, NothingAsked
from assistant.cook.vocabulary.refusals import Refusal
from assistant.sentences.readback import read_back
from tests.cook.build import evening

COOKING = ((0.0, "bird one weighs 6 lb"), (0.0, "birds on"), (40.0, "bird one reads 118"))


def test_a_reading_that_falls_faster_than_meat_can_is_asked_back() -> None:
    decision = evening(*COOKING).ask(45, "bird one reads 90")
    assert isinstance(decision, AskBack)
    assert decision.why == "falls"


def test_a_teen_that_falls_is_asked_back_beside_its_ten() -> None:
    one = evening(*COOKING, (55, "bird one reads 130"))
    decision = one.ask(60, "bird one reads 114")
    assert isinstance(decision, AskBack)
    assert [option.temperature for option in decision.options] == [114, 140]


@pytest.mark.parametrize(
    ("answer", "recorded"),
    [("first", 114), ("second", 140), ("140", 140), ("one fourteen", 114),
     ("bird one reads 140", 140), ("no", None)],
)  # fmt: skip
def test_an_ask_back_is_answered_by_place_number_word_or_whole_command(
    answer: str, recorded: float | None
) -> None:
    one = evening(*COOKING, (55, "bird one reads 130"), (60, "bird one reads 114"), (60.2, answer))
    bird = one.state.bird(1)
    assert bird is not None
    assert one.state.pending is None
    assert bird.readings[-1].temperature_f == (recorded if recorded is not None else 130)


def test_a_question_left_open_is_dropped_after_a_while() -> None:
    one = evening(*COOKING, (45, "bird one reads 90"), (50, "yes"))
    bird = one.state.bird(1)
    assert bird is not None and len(bird.readings) == 1


@pytest.mark.parametrize("words", ["bird one reads 400", "bird one reads 250"])
def test_no_meat_reads_hotter_than_boiling_water(words: str) -> None:
    decision = evening(*COOKING).ask(45, words)
    assert isinstance(decision, Refusal)
    assert decision.WHY == "no_meat_reads"


@pytest.mark.parametrize(
    ("words", "why"),
    [("added five hundred briquettes", "fuel_count"), ("scratch that", "nothing_to_undo"),
     ("bird one sauced", "sauced_before_on"), ("bird one is off", "not_on"),
     ("bird one weighs 80 pounds", "no_bird_weighs"), ("cancel the timer", "no_timer"),
     ("how long for bird two", "unknown_bird")],
)  # fmt: skip
def test_what_cannot_be_is_refused_with_its_reason(words: str, why: str) -> None:
    try:
        decision = evening().ask(1, words)
    except ValueError:  # beyond the grammar already
        return
    assert isinstance(decision, Refusal)
    assert why == decision.WHY


def test_a_bird_beyond_tonights_is_refused() -> None:
    decision = evening(birds=3).ask(1, "bird four is on")
    assert isinstance(decision, Refusal) and decision.WHY == "beyond_tonight"


def test_a_bird_put_on_twice_changes_nothing() -> None:
    decision = evening((0, "birds on")).ask(1, "bird one is on")
    assert isinstance(decision, Answer) and decision.TOPIC == "already"


def test_dinner_tomorrow_is_read_back_with_its_day() -> None:
    """It is Sunday, 16:00: a day named, or a time gone by before the fire, is another day's,
    and both are said back in full."""
    one = evening()
    for words, says in (
        ("dinner tomorrow at half past six", "Dinner at 6:30 in the evening tomorrow, Monday."),
        ("dinner at three thirty", "Dinner at 3:30 in the afternoon tomorrow, Monday."),
        ("dinner on saturday at six p m", "Dinner at 6:00 in the evening on Saturday."),
        ("dinner at six thirty", "Dinner at 6:30 in the evening."),
    ):
        before, decision = one.state, one.say(0, words)
        assert isinstance(decision, Record)
        assert read_back(decision, before, one.state).text == says


def test_serving_time_is_the_next_of_that_clock_time_and_by_the_fire_a_past_one_is_refused() -> (
    None
):
    one = evening()  # 16:00
    decision = one.ask(0, "dinner at six thirty")
    assert isinstance(decision, Record)
    event = decision.events[0]
    assert isinstance(event, ev.ServeSet)
    assert event.serve_s - one.recorded[0].at_s == 2.5 * 3600
    one.say(0, "fire lit")
    past = one.ask(0, "dinner at three thirty")
    assert isinstance(past, Refusal) and past.WHY == "serve_past"


def test_the_thermometers_correction_is_added_to_every_later_reading() -> None:
    one = evening((0, "birds on"))
    one.note(1, ev.ThermometerChecked("ice", 34.0, ev.Said(34.0, "F"), -2.0))
    one.say(40, "bird one reads 118")
    bird = one.state.bird(1)
    assert bird is not None and bird.readings[-1].temperature_f == 116


def test_two_spots_of_one_bird_may_differ_without_a_question() -> None:
    one = evening(*COOKING, (80, "bird one breast reads 160"))
    assert isinstance(one.ask(81, "bird one thigh reads 148"), Record)
    assert isinstance(one.ask(81, "bird one thigh reads 110"), AskBack)


def test_a_no_takes_back_only_what_was_read_back_last() -> None:
    one = evening((0.0, "birds on"), birds=2)
    assert isinstance(one.ask(0.1, "no"), Record)
    one.note(0.1, ev.WordsHeard("bird two reads three hundred", 1.0, "accept", "bird_reading"))
    assert one.ask(0.2, "no") == NothingAsked()
