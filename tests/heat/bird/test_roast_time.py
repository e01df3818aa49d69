"""Planning times against the published charts."""

import pytest

from assistant.heat.bird.evidence import HeatKind
from assistant.heat.bird.roast_time import duration
from tests.heat.bird.scenes import POUND, celsius, minutes
from tests.heat.tables import rows

# FSIS and FoodSafety.gov: broiler-fryers of 3 to 4 lb and roasting hens of 5 to 7 lb.
CHART = [
    (row, float(row[f"lb_{end}"]), float(row[f"min_{end}"]))
    for row in rows("roasting_times", "a a2")
    for end in ("low", "high")
    if row["bird"] in {"whole broiler-fryer, unstuffed", "whole roasting hen, unstuffed",
                       "whole broiler-fryer", "whole roasting hen"}
    and "older" not in row["source"]
]  # fmt: skip


@pytest.mark.parametrize(("row", "pounds", "printed_min"), CHART,
                         ids=[f"{row['method'][:5]}-{lb:g}lb" for row, lb, _ in CHART])  # fmt: skip
def test_published_times_lie_inside_the_prior_interval(
    row: dict[str, str], pounds: float, printed_min: float
) -> None:
    """Oven at its printed temperature; the grill column prints none: the usual band.
    The chart prints whole minutes, so the interval is taken to the minute too."""
    air_c = celsius(float(row["temp_F"])) if row["temp_F"] else None
    heat: HeatKind = "oven" if row["method"] == "oven roast" else "indirect"
    low, _, high = minutes(duration(pounds * POUND, air_c=air_c, heat=heat).done)
    assert low is not None
    assert high is not None
    assert round(low) <= printed_min <= round(high)


def test_the_chart_has_both_columns_and_both_classes() -> None:
    assert len(CHART) == 8


def test_time_grows_with_about_the_two_thirds_power_of_mass() -> None:
    small, large = (minutes(duration(kg, air_c=180.0).done)[1] for kg in (1.5, 3.0))
    assert small is not None
    assert large is not None
    assert large / small == pytest.approx(2.0 ** (2.0 / 3.0), rel=0.08)


def test_sauce_mark_comes_before_the_done_mark_at_about_four_fifths() -> None:
    """Spheres and cylinders without a wet skin: 0.78 to 0.83. A hollow bird whose skin
    evaporates slows down at the end; the middle forecast stays near."""
    told = duration(2.7, air_c=celsius(375.0))
    sauce, done = minutes(told.sauce)[1], minutes(told.done)[1]
    assert sauce is not None
    assert done is not None
    assert 0.73 <= sauce / done <= 0.83


def test_a_hotter_grill_and_a_lower_mark_are_sooner() -> None:
    usual = minutes(duration(2.7, air_c=180.0).done)[1] or 0.0
    assert (minutes(duration(2.7, air_c=205.0).done)[1] or 0.0) < usual
    lower = duration(2.7, air_c=180.0, marks_c=(50.0, 70.0))
    assert (minutes(lower.done)[1] or 0.0) < usual


def test_saucing_adds_time() -> None:
    plain, sauced = (duration(2.7, air_c=180.0, off_s=s).done.q50 or 0.0 for s in (0.0, 600.0))
    assert 60.0 < sauced - plain < 900.0  # many birds leave when they are nearly done


def test_an_unweighed_bird_and_every_kind_has_a_time() -> None:
    for kind in ("chicken", "hen", "duck", "turkey", "roast", "goose"):
        low, middle, high = minutes(duration(None, kind).done)
        assert low is not None
        assert middle is not None
        assert high is not None
        assert 15.0 < low < middle < high < 400.0
