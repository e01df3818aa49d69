"""What makes sense now."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.cook.rules.forecasts import LONGEST_ON_S, MOST_GRILL, evidence_of
from assistant.cook.rules.plausible import neighbours
from assistant.cook.rules.prior import log_prior
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.grammar.parse import parse
from tests.cook.build import NAMES, START_S, evening

COOKING = ((0.0, "bird one weighs 6 lb"), (0.0, "bird one on"), (40.0, "bird one reads 118"))


@pytest.mark.parametrize(
    ("likely", "unlikely"),
    [("bird one reads 128", "bird one reads 180"), ("bird one is off", "bird one is on"),
     ("lid off", "lid on"), ("bird one reads 112", "bird one reads 190"),
     ("what's next", "yes"), ("bird one sauced", "bird five sauced")],
)  # fmt: skip
def test_what_fits_the_cook_is_likelier(likely: str, unlikely: str) -> None:
    state = evening(*COOKING).state
    one, other = (parse(words, NAMES) for words in (likely, unlikely))
    now_s = START_S + 48 * 60
    assert log_prior(state, one, now_s) > log_prior(state, other, now_s) + 1.0


def test_an_open_question_makes_answers_likelier_than_anything_else() -> None:
    state = evening(*COOKING, (45, "bird one reads 90")).state
    assert state.pending is not None
    now_s = START_S + 45.2 * 60
    answers = [parse(words, NAMES) for words in ("yes", "no", "first", "ninety")]
    others = [parse(words, NAMES) for words in ("lid off", "got it", "bird one reads 124")]
    assert min(log_prior(state, one, now_s) for one in answers) > max(
        log_prior(state, one, now_s) for one in others
    )


@given(st.integers(32, 212))
def test_a_surprising_reading_stays_possible(temperature: int) -> None:
    state = evening(*COOKING).state
    command = cmd.BirdReading(1, float(temperature), cmd.Said(float(temperature), "F"))
    assert log_prior(state, command, START_S + 48 * 60) > -20.0


def test_teens_and_tens_are_neighbours_both_ways() -> None:
    assert 130 in neighbours(113)
    assert 113 in neighbours(130)
    assert 180 in neighbours(118)
    assert 340 in neighbours(350)


def test_an_endless_evening_takes_in_no_more_than_a_long_one() -> None:
    one = evening((0.0, "birds on"))
    for half_hours in range(1, 48):
        minute = 30.0 * half_hours
        one.note(minute, ev.BirdRead(1, 150.0, ev.Said(150.0, "F")))
        one.note(minute, ev.GrillRead(370.0, ev.Said(370.0, "F")))
    told = evidence_of(one.state)
    (bird, _) = told.birds
    assert one.state.at_s - bird.on_heat[0].start_s == LONGEST_ON_S
    assert len(bird.readings) == LONGEST_ON_S / 1800.0 + 1
    assert len(told.grill) <= MOST_GRILL
