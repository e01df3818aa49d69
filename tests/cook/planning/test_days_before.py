"""The days before and the hours after, each published figure beside its source
(tests/references/days_before.csv)."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.cook import guidance
from assistant.cook.planning import afterwards, before, guests
from assistant.cook.planning.before import DAY_S, KG_LB, Thaw, days_before, thaw
from assistant.cook.planning.fuel_need import fuel_for
from assistant.cook.planning.plan import Grill, PlannedBird
from assistant.cook.planning.sides import Side
from assistant.cook.planning.whole_dinner import Order, placed, whole_dinner

NOW_S = 1_795_820_400.0  # Friday 27 November 2026, 23:00 UTC
HOUR_S = 3600.0
REFERENCES = Path(__file__).parents[2] / "references"


def published(rule: str) -> tuple[float, float]:
    lines = (REFERENCES / "days_before.csv").read_text(encoding="utf-8").splitlines()
    rows = csv.DictReader(line for line in lines if not line.startswith("#"))
    (row,) = [row for row in rows if row["rule"].startswith(rule)]
    return float(row["low"]), float(row["high"] or "inf")


def flock(*pounds: float, kind: str = "chicken") -> tuple[PlannedBird, ...]:
    return tuple(PlannedBird(n, lb * KG_LB, kind) for n, lb in enumerate(pounds, 1))


def test_published_figures_are_the_ones_used() -> None:
    assert published("refrigerator thawing at 40 F") == before.FRIDGE_LB_A_DAY
    assert published("cold water thawing, water") == (before.WATER_S_A_LB / 60,) * 2
    assert published("water changed every") == (guidance.WATER_CHANGE_S / 60,) * 2
    assert published("raw poultry in the refrigerator")[1] * DAY_S == before.RAW_KEEPS_S
    assert published("whole turkey a person") == (guests.LB_A_PERSON["turkey"],) * 2
    assert published("boneless piece a person") == (guests.LB_A_PERSON["roast"],) * 2
    low, high = published("whole duck or goose a person")
    assert low <= guests.LB_A_PERSON["duck"] <= high
    assert published("leftovers in the cold within")[0] * HOUR_S == guidance.CHILL_S
    assert published("same, air above 90 F")[0] * HOUR_S == guidance.CHILL_IN_HEAT_S
    assert published("ash and coals")[0] * HOUR_S <= afterwards.ASH_S


@pytest.mark.parametrize("pounds", [4.0, 8.0, 12.0])
def test_a_whole_bird_thaws_within_the_published_days_and_hours(pounds: float) -> None:
    """The chart's own range for whole birds of 4 to 12 lb: 1 to 3 days, or 2 to 6 hours."""
    days = published("refrigerator thawing, whole")
    found = thaw(flock(pounds), NOW_S + 10 * DAY_S, NOW_S)
    assert found is not None and found.way == "refrigerator"
    assert days[0] <= (found.ends_s - found.starts_s) / DAY_S <= days[1]
    hours = published("cold water thawing, whole")
    wet = thaw(flock(pounds), NOW_S + 10 * HOUR_S, NOW_S)
    assert wet is not None and wet.way == "cold_water"
    assert hours[0] <= (wet.ends_s - wet.starts_s) / HOUR_S <= hours[1]


@given(st.floats(1, 30), st.floats(0, 200))
def test_a_thaw_is_never_shorter_than_published_nor_before_now(
    pounds: float, away_h: float
) -> None:
    out_s = NOW_S + away_h * HOUR_S
    found = thaw(flock(pounds), out_s, NOW_S)
    if found is None:
        assert out_s < NOW_S + 1800 * pounds
        return
    assert NOW_S <= found.starts_s <= found.ends_s <= out_s
    least_s = 1800 * pounds if found.way == "cold_water" else DAY_S * pounds / 5
    assert found.ends_s - found.starts_s >= least_s - 1e-3


def test_salt_waits_for_the_thaw_and_a_bird_out_of_cold_water_is_cooked_at_once() -> None:
    birds, out_s = flock(4), NOW_S + 3 * DAY_S
    dry = thaw(birds, out_s, NOW_S)
    assert dry is not None
    salt = next(one for one in days_before(birds, out_s, NOW_S, dry) if one.what == "salt")
    assert dry.ends_s <= salt.likely_s <= out_s
    wet = Thaw("cold_water", out_s - 7200, out_s - 7200, out_s)
    assert not [one for one in days_before(birds, out_s, NOW_S, wet) if one.what == "salt"]


def test_nothing_is_planned_before_now() -> None:
    for away_h in (3, 12, 30, 100):
        for one in days_before(flock(4), NOW_S + away_h * HOUR_S, NOW_S, None):
            assert one.likely_s >= NOW_S


@pytest.mark.parametrize(("people", "kind", "birds"), [
    (4, "chicken", 1), (6, "chicken", 2), (12, "chicken", 3), (12, "turkey", 1), (5, "hen", 5),
    (8, "roast", 1),
])  # fmt: skip
def test_birds_for_the_people_at_the_table(people: int, kind: str, birds: int) -> None:
    masses = guests.birds_for(people, kind)
    assert len(masses) == birds
    found = [PlannedBird(n, kg, kind) for n, kg in enumerate(masses, 1)]
    assert guests.feeds(found) >= people


def test_a_pound_a_person_is_half_a_pound_of_meat() -> None:
    """One raw pound leaves 53 to 54 % edible: 8.5 oz, more than two 4 oz servings."""
    low, high = published("whole turkey roasted")
    assert 8.0 <= 16 * low / 100 <= 16 * high / 100 <= 9.0


def test_fuel_agrees_with_the_heat_balance_of_a_kettle() -> None:
    """Two birds at 188 C: 12 to 24 briquettes an hour, 5 to 95 % (kettle_heat_balance.csv,
    derived)."""
    one = fuel_for(0, 2400, 3 * HOUR_S, (1.95, 1.95), air_c=188.0, outside_c=20.0)
    two = fuel_for(0, 2400, 4 * HOUR_S, (1.95, 1.95), air_c=188.0, outside_c=20.0)
    assert 12 <= two.likely - one.likely <= 24
    assert two.low - one.low < two.likely - one.likely < two.high - one.high <= 24


def test_fuel_grows_with_heat_cold_and_birds_and_is_put_on_in_time() -> None:
    usual = fuel_for(0, 2400, 9000, (2.0,), air_c=190.0, outside_c=20.0)
    assert fuel_for(0, 2400, 9000, (2.0,), air_c=190.0, outside_c=-10.0).likely > usual.likely
    assert fuel_for(0, 2400, 9000, (2.0,), air_c=220.0, outside_c=20.0).likely > usual.likely
    assert fuel_for(0, 2400, 9000, (2.0, 2.0), air_c=190.0, outside_c=20.0).likely > usual.likely
    assert usual.low < usual.likely < usual.high
    assert sum(count for _, count in usual.loads) == pytest.approx(usual.likely, rel=0.15)
    assert all(0 <= at_s < 9000 - 1200 for at_s, _ in usual.loads)
    assert usual.chimneys[1] == pytest.approx(usual.likely / 80)


def order(*birds: PlannedBird, away_h: float = 19.5, **more: object) -> Order:
    return Order(NOW_S + away_h * HOUR_S, placed(birds), Grill(), **more)  # type: ignore[arg-type]


def test_the_slowest_sits_at_the_motor_and_the_far_one_is_pulled_first() -> None:
    found = whole_dinner(order(*flock(3, 6)), NOW_S)
    assert [round(bird.mass_kg / KG_LB) for bird in found.order.birds] == [6, 3]
    assert found.way == "far_first"
    assert found.carve == (2, 1)


def test_sides_come_back_from_the_table_and_share_the_grill_while_birds_are_on() -> None:
    sides = (Side("potatoes", 60, "grill"), Side("flat bread", 6, "grill"), Side("slaw", 20))
    found = whole_dinner(order(*flock(4), sides=sides), NOW_S)
    at = {one.name: one for one in found.plan.moments if one.name}
    serve_s = found.plan.serve_s
    assert {name: round((serve_s - one.likely_s) / 60) for name, one in at.items()} == {
        "potatoes": 65, "flat bread": 11, "slaw": 25,
    }  # fmt: skip
    assert at["potatoes"].what == "side_beside"
    assert at["flat bread"].what == "side_grill"
    shut = found.plan.moment("fire_out")
    assert shut is not None
    assert shut.likely_s >= at["flat bread"].likely_s + 6 * 60


def test_a_side_that_is_too_late_is_named() -> None:
    with pytest.raises(ValueError, match=r"beans takes 900 min and is \d+ min too late"):
        whole_dinner(order(*flock(4), away_h=6, sides=(Side("beans", 900),)), NOW_S)


def test_a_thaw_that_cannot_be_in_time_says_what_still_works() -> None:
    """Four hours to dinner and a frozen 4 lb bird: no time even for cold water."""
    with pytest.raises(ValueError, match=r"cold water .* fresh birds: a frozen bird is not for"):
        whole_dinner(order(*flock(4), away_h=4, frozen=True), NOW_S)


def test_the_vents_are_shut_after_the_last_bird_and_ash_counts_as_hot_for_a_day() -> None:
    found = whole_dinner(order(*flock(4)), NOW_S)
    shut, ash = found.plan.moment("fire_out"), found.plan.moment("ash")
    assert shut is not None
    assert ash is not None
    assert shut.likely_s >= max(one.likely_s for one in found.plan.moments_of("off"))
    assert ash.likely_s - shut.likely_s == DAY_S
