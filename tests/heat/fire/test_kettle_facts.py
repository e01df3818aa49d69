"""The kettle against what is published or reported of kettles.

Every figure is read from tests/references, with its source and its mark there: a, the page
was read; b, computed; c, from memory. Makers' and cooks' words are no measurements, so each
bound is wide.
"""

from dataclasses import replace

import numpy as np
import pytest

from assistant.heat.bird.evidence import AirReading, Kitchen, Span
from assistant.heat.fire.evidence import BirdLoad, FireEvidence, FuelLoad, VentsMoved
from assistant.heat.fire.filter import estimate, run_on
from assistant.heat.fire.forecast import learned_from
from assistant.heat.fire.kettle import BIRD_W, PRIOR
from tests.heat.tables import rows

ON_S, MIN_S = 2700.0, 60.0


def told(file: str, quantity: str, mark: str, column: str = "typical") -> float:
    """One figure of tests/references, its mark as stated here."""
    row = next(one for one in rows(file, "a a2 b c") if one["quantity"].startswith(quantity))
    assert row["mark"] == mark
    return float(row[column])


def prior(name: str) -> tuple[float, float, float]:
    """The kettle's 5, 50 and 95 % of an unknown, before any reading."""
    median, sd = next((median, sd) for one, median, sd in PRIOR if one == name)
    return median * np.exp(-1.645 * sd), median, median * np.exp(1.645 * sd)


def c(temperature_f: float) -> float:
    return (temperature_f - 32.0) / 1.8


def birds(count: int, mass_kg: float, on_s: float = ON_S) -> tuple[BirdLoad, ...]:
    return tuple(BirdLoad(mass_kg, (Span(on_s),)) for _ in range(count))


def grill_f(known: FireEvidence, at_s: float) -> np.ndarray:
    return np.asarray(estimate(known, at_s).cloud.temperature_c) * 1.8 + 32.0


LIT = FireEvidence(
    lit_s=0.0,
    fuel=(FuelLoad(0.0, 60),),
    readings=(AirReading(2600.0, c(372.0)),),
    vents=(VentsMoved(0.0, 0.5, 0.5),),
)


def dip_f(count: int, mass_kg: float, after_s: float) -> np.ndarray:
    """The fall of the grill against the same fire with nothing on it."""
    loaded = replace(LIT, birds=birds(count, mass_kg))
    return grill_f(LIT, ON_S + after_s) - grill_f(loaded, ON_S + after_s)


def test_a_makers_load_holds_a_roasting_heat() -> None:
    """So many a side at first and so many each hour: with two chickens on, the median stays
    a roasting heat for three hours."""
    first = 2 * told("kettle_reports", "briquettes a side for the first hour", "a")
    hourly = 2 * told("kettle_reports", "briquettes a side for each further hour", "a")
    later = tuple(FuelLoad(3600.0 * hour, hourly) for hour in (1, 2, 3))
    known = FireEvidence(lit_s=0.0, fuel=(FuelLoad(0.0, first), *later), birds=birds(2, 1.7))
    for minutes in (60, 90, 120, 150, 180):
        assert 325.0 <= np.median(grill_f(known, MIN_S * minutes)) <= 450.0


def test_a_first_pile_is_ready_when_the_makers_say() -> None:
    """25 to 30 minutes by the makers, 15 to 30 in a chimney from memory."""
    low, middle, high = prior("fire_ready")
    longest = told("kettle_reports", "from the match", "a", "high")
    assert low < MIN_S * told("charcoal", "ignition in a chimney", "c", "low")
    assert middle < MIN_S * longest < high


def test_a_briquette_gives_the_heat_of_the_balance() -> None:
    """What it leaves in the kettle after exhaust and CO, 25 g at 5, 50 and 95 %."""
    grams = told("charcoal", "briquette mass", "c")
    low, middle, high = (
        told("kettle_heat_balance", "fuel heat left", "b", p) * 1e3 * grams
        for p in ("p05", "p50", "p95")
    )
    found = prior("fire_heat")
    assert found[0] == pytest.approx(low, rel=0.1)
    assert found[1] == pytest.approx(middle, rel=0.05)
    assert found[2] == pytest.approx(high, rel=0.1)


def test_the_wall_and_the_birds_take_what_the_balance_says() -> None:
    wall_w = told("kettle_heat_balance", "wall loss", "b", "p50")
    assert prior("fire_loss")[1] * (188.0 - 20.0) == pytest.approx(wall_w, rel=0.05)
    two_w = told("kettle_heat_balance", "two birds", "b", "p50")
    assert pytest.approx(two_w, rel=0.05) == 2 * BIRD_W


def test_a_lit_briquette_lasts_as_long_as_remembered() -> None:
    low, _, high = prior("fire_life")
    assert low < MIN_S * told("charcoal", "lit briquette useful life", "c") < high
    assert low < MIN_S * told("charcoal", "lit briquette useful life", "c", "high") < high


def test_putting_birds_on_pulls_the_dial_down_as_reported() -> None:
    """The fall that one cook saw lies in the 80 % interval twenty minutes on, for chickens
    as for turkeys of 6 lb."""
    fell_f = told("kettle_reports", "fall of the dial", "c")
    for mass_kg in (1.7, 2.7):
        low, high = np.quantile(dip_f(2, mass_kg, 1200.0), (0.1, 0.9))
        assert low <= fell_f <= high


def test_however_many_birds_the_dip_is_bounded() -> None:
    """Two turkeys, eight hens or four chickens: about twice the reported fall at most in
    nine draws of ten, where the heat that they take alone would go to the coldest of grills."""
    most_f = 2.1 * told("kettle_reports", "fall of the dial", "c")
    for count, mass_kg in ((2, 6.4), (8, 0.7), (4, 2.0)):
        assert np.quantile(dip_f(count, mass_kg, 1800.0), 0.9) < most_f


def vented_f(bottom: float, top: float) -> tuple[float, float]:
    """The change against leaving both vents half open, 10 minutes and an hour on."""
    known = replace(LIT, birds=birds(2, 1.7))
    past = estimate(known, 4200.0)
    moved = replace(known, vents=(*known.vents, VentsMoved(4200.0, bottom, top)))
    times, left = run_on(past, known, 4200.0, 7800.0)
    _, vented = run_on(past, moved, 4200.0, 7800.0)
    gain = np.median(vented - left, axis=1) * 1.8
    return float(np.interp(4800.0, times, gain)), float(gain[-1])


def test_vents_opened_fully_do_little_for_ten_minutes() -> None:
    """A cook opened them and saw no difference: by then no more than two fifths of what an
    hour brings."""
    assert told("kettle_reports", "change ten minutes after", "a") == 0.0
    soon, late = vented_f(1.0, 1.0)
    assert late > 20.0
    assert soon < 0.4 * late


def test_a_spit_ring_leaks_so_that_shut_vents_do_not_put_the_fire_out() -> None:
    """Vents must be nearly shut there to hold a roasting heat: an hour after shutting both
    the grill is still well over 150 F."""
    assert told("kettle_reports", "bottom vent of a kettle", "c", "high") <= 0.25
    _, late = vented_f(0.0, 0.0)
    assert -220.0 < late < -40.0


@pytest.mark.xfail(strict=True, reason="the kettle keeps a full chimney burning for longer")
def test_a_full_chimney_that_collapsed_after_an_hour() -> None:
    """One cook's fire went to the high 270s half an hour after it was fed; the model, which
    has heard 345 F and then 330 and 320, says 390.

    Two things it was told pull apart: 20 pieces more and the vent opened fully make any
    fire of the balance hotter within half an hour, and this one was not. What choked it (ash
    in the vents, damp coal, a lid left off) the report does not tell, and nobody would have
    told Turnspit. The filter's jumps of the air by `JUMP` could follow a fire that sinks; that
    the vent's opening does the contrary is outside them.
    """
    low_f = told("kettle_reports", "grill half an hour after", "a", "high")
    minutes = ((10, 350.0), (40, 350.0), (68, 350.0), (78, 345.0), (88, 330.0), (98, 320.0))
    known = FireEvidence(
        lit_s=-20 * MIN_S,
        fuel=(FuelLoad(0.0, 1, "chimney"), FuelLoad(71 * MIN_S, 8), FuelLoad(98 * MIN_S, 12)),
        vents=(VentsMoved(0.0, 0.5, 1.0), VentsMoved(88 * MIN_S, 1.0, 1.0)),
        lid_open=(Span(70 * MIN_S, 72 * MIN_S),),
        birds=birds(1, 2.5, 10 * MIN_S),
        readings=tuple(AirReading(at * MIN_S, c(dial_f)) for at, dial_f in minutes),
        outside_c=c(60.0),
    )
    assert np.quantile(grill_f(known, 118 * MIN_S), 0.1) <= low_f


def shifts(known: FireEvidence, at_s: float = 9000.0) -> dict[str, float]:
    return {name: mean for name, mean, _ in learned_from(known, at_s)}


def dials(*read: tuple[float, float]) -> FireEvidence:
    reads = tuple(AirReading(MIN_S * at, c(dial_f)) for at, dial_f in read)
    return replace(LIT, birds=birds(2, 1.7), readings=reads)


def test_a_leak_is_learned_by_kitchen_and_heeded() -> None:
    """The grill stayed hot with the vents nearly shut; the next cook's fire does too."""
    shut = replace(LIT, birds=birds(2, 1.7), vents=(VentsMoved(0.0, 0.1, 0.1),))
    hot = replace(shut, readings=tuple(AirReading(2600.0 + 1200.0 * k, 190.0) for k in range(5)))
    leak = shifts(hot, 8000.0)["fire_leak"]
    assert leak > 0.2
    new = replace(shut, readings=())
    leaky = replace(new, kitchen=Kitchen(1, (("fire_leak", leak, 0.3),)))
    assert np.median(grill_f(leaky, 6000.0)) > np.median(grill_f(new, 6000.0)) + 10.0


def test_the_load_of_the_birds_is_learned_by_kitchen() -> None:
    """A dial that falls far as they go on, and one that hardly moves."""
    before = ((35, 372.0), (44, 372.0))
    fell = dials(*before, (55, 320.0), (65, 312.0), (75, 310.0))
    stood = dials(*before, (55, 370.0), (65, 370.0), (75, 370.0))
    assert shifts(fell, 4600.0)["fire_birds"] > shifts(stood, 4600.0)["fire_birds"] + 0.05


def test_the_tail_of_the_burn_is_learned_by_kitchen() -> None:
    """Coals that fade from the first hour on, and coals that glow on and then go out."""
    fades = dials((45, 400.0), (75, 365.0), (105, 325.0), (135, 285.0), (165, 255.0))
    glows = dials((45, 375.0), (75, 375.0), (105, 372.0), (135, 350.0), (165, 270.0))
    assert shifts(fades, 10200.0)["fire_tail"] > shifts(glows, 10200.0)["fire_tail"] + 0.05
