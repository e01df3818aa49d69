"""The plan back from the table: order, margins, batches, and what it becomes live."""

import csv
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.cook.planning.plan import (
    SAUCE_LATEST_S,
    Grill,
    PlannedBird,
    carve_s,
    plan,
    rest_s,
)
from assistant.heat.bird.evidence import HeatKind, Kitchen, Quantiles
from assistant.heat.bird.roast_time import RoastTime

SERVE_S = 1_790_535_600.0
LB_KG = 0.45359237
REFERENCES = Path(__file__).parents[2] / "references"


def by_weight(
    mass_kg: float | None,
    kind: str = "chicken",
    air_c: float | None = None,
    kitchen: Kitchen = Kitchen(),  # noqa: B008 - frozen
    *,
    off_s: float = 0.0,
    marks_c: tuple[float, float] | None = None,
    outside_c: float = 20.0,
    heat: HeatKind = "charcoal spit",
) -> RoastTime:
    """A roaster whose times are plain: 40 min a kg, give or take a fifth."""
    done = 2400.0 * (mass_kg or 2.0)
    return RoastTime(
        Quantiles(0.65 * done, 0.8 * done, 0.95 * done),
        Quantiles(0.8 * done + off_s, done + off_s, 1.2 * done + off_s),
    )


def flock(*masses_kg: float, sauced: bool = True, kind: str = "chicken") -> list[PlannedBird]:
    return [PlannedBird(i, kg, kind, sauced=sauced) for i, kg in enumerate(masses_kg, 1)]


def test_worked_by_hand() -> None:
    """One plain 1.5 kg bird, 60 min give or take 12: carving 7, rest 15, off by 18:38;
    on 66 min (the 0.7 quantile) earlier, lit 40 min before that."""
    found = plan(SERVE_S, flock(1.5, sauced=False), roast=by_weight)
    at = {one.what: (SERVE_S - one.likely_s) / 60 for one in found.moments}
    assert at["carve"] == pytest.approx(7)
    assert at["rest"] == pytest.approx(22)
    assert at["birds_on"] == pytest.approx(22 + 66)
    assert at["off"] == pytest.approx(22 + 6)
    assert at["settled"] == pytest.approx(22 + 66 + 5)
    assert at["light"] == pytest.approx(22 + 66 + 40)
    assert at["readiness"] == pytest.approx(22 + 66 + 70)
    assert "sauce" not in at


def test_saucing_takes_its_ten_minutes() -> None:
    """A sauced bird goes on ten minutes before the same bird plain."""
    plain = plan(SERVE_S, flock(1.5, sauced=False), roast=by_weight).moment("birds_on")
    sauced = plan(SERVE_S, flock(1.5), roast=by_weight).moment("birds_on")
    assert plain is not None
    assert sauced is not None
    assert plain.likely_s - sauced.likely_s == pytest.approx(600)


@given(st.lists(st.floats(0.5, 6.0), min_size=1, max_size=8), st.booleans())
def test_moments_are_ordered(masses_kg: list[float], sauced: bool) -> None:
    """Early <= likely <= late in every moment, and the evening runs forwards."""
    found = plan(SERVE_S, flock(*masses_kg, sauced=sauced), roast=by_weight)
    for one in found.moments:
        assert one.early_s <= one.likely_s <= one.late_s
    likely = [one.likely_s for one in found.moments]
    assert likely == sorted(likely)
    stages = ("readiness", "light", "settled", "birds_on", "rest", "carve", "serve", "chill")
    firsts = [one.likely_s for what in stages if (one := found.moment(what))]  # type: ignore[assignment]
    assert firsts == sorted(firsts)
    assert len(firsts) == len(stages)


@given(st.lists(st.floats(0.5, 6.0), min_size=1, max_size=8))
def test_every_bird_is_in_every_step(masses_kg: list[float]) -> None:
    """Each bird goes on once, is looked at once, sauced once and comes off once."""
    found = plan(SERVE_S, flock(*masses_kg), Grill(at_once=3), roast=by_weight)
    for what in ("birds_on", "first_look", "sauce", "off"):
        numbers = [n for one in found.moments if one.what == what for n in one.birds]
        assert sorted(numbers) == list(range(1, len(masses_kg) + 1))


def test_sauce_window_ends_before_done() -> None:
    """The last moment for sauce leaves it ten minutes to set."""
    found = plan(SERVE_S, flock(2.0), roast=by_weight)
    sauce, off = found.moment("sauce"), found.moment("off")
    assert sauce is not None
    assert off is not None
    assert sauce.late_s <= off.likely_s - SAUCE_LATEST_S


def test_close_weights_are_one_stop_and_come_off_together() -> None:
    """3.5, 3.5 and 4 lb share a spit: one start, one stop for sauce, off at once."""
    found = plan(SERVE_S, flock(3.5 * LB_KG, 3.5 * LB_KG, 4 * LB_KG))
    for what in ("birds_on", "sauce", "off"):
        assert [one.birds for one in found.moments_of(what)] == [(1, 2, 3)]


def test_far_weights_share_one_start_and_the_far_one_is_pulled_first() -> None:
    """6 lb at the motor and 3 lb at the far end: nothing is threaded on between, the
    small one is pulled when it is done, and the big one goes on roasting."""
    found = plan(SERVE_S, flock(6 * LB_KG, 3 * LB_KG))
    assert [one.birds for one in found.moments_of("birds_on")] == [(1, 2)]
    small, big = found.moments_of("off")
    assert (small.birds, big.birds) == ((2,), (1,))
    assert big.likely_s - small.likely_s > 1200


def test_a_small_bird_at_the_motor_waits_for_the_big_one_outside_it() -> None:
    """3 lb at the motor end cannot leave before the 6 lb bird: one pull, at the later."""
    found = plan(SERVE_S, flock(3 * LB_KG, 6 * LB_KG))
    (off,) = found.moments_of("off")
    alone = plan(SERVE_S, flock(6 * LB_KG)).moment("off")
    assert off.birds == (1, 2)
    assert alone is not None
    assert off.likely_s == pytest.approx(alone.likely_s)


def test_a_stop_for_sauce_near_a_pull_is_made_then() -> None:
    """4.5 and 4 lb with sauce, 3 lb plain at the far end: the small one is off within
    minutes of the stop for the others, so the spit is lifted out once."""
    birds = [*flock(4.5 * LB_KG, 4 * LB_KG), PlannedBird(3, 3 * LB_KG, sauced=False)]
    found = plan(SERVE_S, birds)
    sauce, off = found.moment("sauce"), found.moment("off", 3)
    assert sauce is not None
    assert off is not None
    assert sauce.likely_s == off.likely_s
    assert sauce.early_s <= sauce.likely_s <= sauce.late_s


def test_two_batches() -> None:
    """Eight hens on a spit for four: two equal batches with time to change over."""
    found = plan(SERVE_S, flock(*[0.57] * 8, kind="hen"), Grill(at_once=4), roast=by_weight)
    on = [one for one in found.moments if one.what == "birds_on"]
    off = [one for one in found.moments if one.what == "off"]
    assert [len(one.birds) for one in on] == [4, 4]
    assert on[1].likely_s >= off[0].likely_s + 600


def test_times_agree_with_the_published_chart() -> None:
    """A 3.5 lb bird's median on the spit lies between the chart's indirect grill
    (60 to 75 min) and its oven (75 to 90 min) extremes, saucing aside."""
    rows = list(
        csv.DictReader(
            line
            for line in (REFERENCES / "roasting_times.csv").read_text().splitlines()
            if not line.startswith("#")
        )
    )
    chart = [r for r in rows if "broiler-fryer" in r["bird"] and r["mark"] in {"a", "a2"}]
    low = min(float(r["min_low"]) for r in chart)
    high = max(float(r["min_high"]) for r in chart if "older" not in r["source"])
    found = plan(SERVE_S, flock(3.5 * LB_KG, sauced=False))
    on, off = found.moment("birds_on"), found.moment("off")
    assert on is not None
    assert off is not None
    assert low <= (off.likely_s - on.likely_s) / 60 <= high


def test_hot_evening_halves_the_time_for_leftovers() -> None:
    """Two hours from the heat; one when the air is above 90 F."""
    mild = plan(SERVE_S, flock(1.5), roast=by_weight)
    hot = plan(SERVE_S, flock(1.5), Grill(outside_f=95), roast=by_weight)
    off, cold, soon = mild.moment("off"), mild.moment("chill"), hot.moment("chill")
    assert off is not None
    assert cold is not None
    assert soon is not None
    assert cold.likely_s - off.likely_s == 2 * 3600
    assert soon.likely_s - off.likely_s == 3600


def test_leftovers_count_from_the_first_bird_off() -> None:
    """6 and 4 lb: the small one is off first, and its two hours are everybody's."""
    found = plan(SERVE_S, flock(6 * LB_KG, 4 * LB_KG))
    first, _ = found.moments_of("off")
    chill = found.moment("chill")
    assert chill is not None
    assert chill.likely_s == first.likely_s + 2 * 3600


def test_too_late_is_told() -> None:
    """With an hour to dinner an hour's roast cannot be on time."""
    assert not plan(SERVE_S, flock(1.5), now_s=SERVE_S - 3600, roast=by_weight).on_time
    assert plan(SERVE_S, flock(1.5), now_s=SERVE_S - 4 * 3600, roast=by_weight).on_time


def test_refusals() -> None:
    """No birds, an unknown kind, no room, and a grill that never gets there."""
    with pytest.raises(ValueError, match="at least one weight"):
        plan(SERVE_S, [])
    with pytest.raises(ValueError, match="chicken, hen, duck"):
        plan(SERVE_S, flock(1.5, kind="ostrich"), roast=by_weight)
    with pytest.raises(ValueError, match="at least one bird at once"):
        plan(SERVE_S, flock(1.5), Grill(at_once=0), roast=by_weight)
    with pytest.raises(ValueError, match="hotter grill or a smaller bird"):
        plan(SERVE_S, flock(1.5), Grill(air_c=60.0))


@settings(max_examples=30)
@given(st.lists(st.floats(0.5, 6), min_size=1, max_size=8))
def test_carving_is_bounded(masses_kg: list[float]) -> None:
    """Carving takes some minutes, never more than 25; rest is the kind's."""
    birds = flock(*masses_kg)
    assert 240 <= carve_s(birds) <= 1500
    assert rest_s(birds) == 900
