"""When marks were reached, and how the forecasts of an evening score."""

from dataclasses import replace

import numpy as np
import pytest
import scoringrules
from hypothesis import given
from hypothesis import strategies as st

from assistant.cook.state import Bird, Cook, Reading
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Spot
from assistant.heat.bird.evidence import BirdForecast, Forecast, Quantiles
from assistant.lookback.facts import Evening, Foreseen, Reached, evening, reached_mark
from assistant.lookback.scores import (
    Scored,
    crps,
    interval_score,
    scored,
    summary,
)
from tests.journal.evenings import BEGAN, family_dinner, told

SAID = ev.Said(98.0, "F")
minute = st.floats(-300, 300)


def read(*values: tuple[float, float] | tuple[float, float, Spot]) -> Bird:
    """A bird with these readings: minutes, F, and the spot."""
    readings = tuple(
        Reading(60.0 * one[0], one[1], seq, one[2] if len(one) > 2 else None)
        for seq, one in enumerate(values, 1)
    )
    return Bird(1, sauce="apricot", readings=readings)


def test_a_mark_is_reached_where_the_line_between_two_readings_crosses_it() -> None:
    found = reached_mark(read((40, 120), (60, 140)), "sauce")
    assert found == Reached(1, "sauce", at_s=50 * 60.0, after_s=40 * 60.0, by_s=60 * 60.0)


def test_the_later_of_two_spots_decides_when_a_bird_was_done() -> None:
    one = read((80, 155, "breast"), (81, 150, "thigh"), (90, 175, "breast"), (91, 170, "thigh"))
    found = reached_mark(one, "done")
    assert found is not None
    assert found.at_s == pytest.approx((81 + 15 / 20 * 10) * 60)
    assert found.by_s == 91 * 60


def test_one_hot_spot_beside_a_cold_one_has_not_reached_the_mark() -> None:
    assert reached_mark(read((80, 150, "thigh"), (81, 170, "breast")), "done") is None


def test_a_mark_first_read_from_above_has_no_beginning_and_is_not_scored() -> None:
    found = reached_mark(read((80, 170)), "done")
    assert found == Reached(1, "done", at_s=4800.0, after_s=None, by_s=4800.0)
    seen = Evening(family_dinner(), Cook(birds=(read((80, 170)),)), (), (found,), "")
    assert scored(seen) == ()


def test_a_plain_bird_never_reaches_a_sauce_mark() -> None:
    plain = replace(read((40, 120), (60, 140)), sauce="plain")
    assert reached_mark(plain, "sauce") is None


@given(low=minute, width=st.floats(0, 300), truth=minute)
def test_the_interval_score_is_the_published_one(low: float, width: float, truth: float) -> None:
    expected = scoringrules.interval_score(truth, low, low + width, 0.2)
    assert interval_score(low, low + width, truth) == pytest.approx(float(expected), abs=1e-9)


@given(values=st.tuples(minute, minute, minute).map(sorted), truth=minute)
def test_the_crps_estimate_is_the_quantile_form(values: list[float], truth: float) -> None:
    expected = scoringrules.crps_quantile(truth, np.array(values), np.array([0.1, 0.5, 0.9]))
    found = crps(Quantiles(*values), truth)
    assert found == pytest.approx(float(expected), abs=1e-9)


def test_a_forecast_without_an_end_has_no_crps_but_can_hold_the_truth() -> None:
    open_ended = Scored(0.0, 1, "done", Quantiles(100.0, 200.0, None), truth_s=5000.0)
    assert crps(open_ended.times, 5000.0) is None
    assert open_ended.is_inside
    assert summary([open_ended]).interval_score_s is None
    assert summary([open_ended]).error_s == 4800.0


def test_a_forecast_that_is_too_early_has_a_negative_bias() -> None:
    early = Scored(0.0, 1, "done", Quantiles(60.0, 120.0, 180.0), truth_s=300.0)
    found = summary([early])
    assert (found.bias_s, found.error_s, found.inside) == (-180.0, 180.0, 0.0)


def test_only_forecasts_made_before_the_mark_was_read_are_scored() -> None:
    bird = read((40, 120), (60, 140))
    truth = reached_mark(bird, "sauce")
    assert truth is not None
    times = Quantiles(2900.0, 3000.0, 3100.0)
    one = Forecast((BirdForecast(1, times, Quantiles(None, None, None), (0, 0, 0), 0, 0),), None)
    event = ev.BirdRead(1, 120.0, SAID)
    foreseen = (
        Foreseen(2400.0, event, one),
        Foreseen(2500.0, ev.LidOpened(), one),  # a lid is not a reading
        Foreseen(3600.0, event, one),  # the reading that showed the mark
    )
    seen = Evening((), Cook(birds=(bird,)), foreseen, (truth,), "")
    assert [found.made_s for found in scored(seen)] == [2400.0]


def test_no_forecast_no_scores() -> None:
    empty = summary([])
    assert empty.count == 0
    assert empty.inside is None
    assert empty.crps_s is None


def test_an_evening_holds_the_forecast_as_it_stood_after_each_fact() -> None:
    seen = evening(family_dinner(), "Family dinner")
    assert [one.at_s for one in seen.foreseen] == sorted(one.at_s for one in seen.foreseen)
    assert isinstance(seen.foreseen[0].because, ev.BirdOn)
    marks = {(one.bird, one.mark) for one in seen.reached}
    assert marks == {(1, "sauce"), (1, "done"), (2, "sauce"), (2, "done"), (3, "done")}
    scores = scored(seen)
    assert all(one.made_s < one.truth_s + 300 for one in scores)
    assert {one.bird for one in scores} == {1, 2, 3}


def test_a_corrected_reading_counts_as_corrected() -> None:
    recorded = told(
        [(0, "bird one is on"), (3000, "bird one reads ninety eight"), (3010, "correction ninety")]
    )
    seen = evening(recorded, "")
    assert [one.temperature_f for one in seen.cook.birds[0].readings] == [90.0]
    assert seen.foreseen[-1].at_s == recorded[-1].at_s  # and makes a new forecast


def test_a_cook_that_never_roasted_has_nothing_to_score() -> None:
    seen = evening((ev.Recorded(1, 0.0, BEGAN),), "")
    assert seen.foreseen == ()
    assert scored(seen) == ()
