"""The fire's forecast: physics it must keep, evidence it must heed, honesty of its spread."""

import csv
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from assistant.heat.bird.evidence import AirReading, Kitchen, Span
from assistant.heat.fire.evidence import BirdLoad, FireEvidence, FuelLoad
from assistant.heat.fire.forecast import FireForecast, crossings, fire_forecast, learned_from
from tests.heat.fire.fire_truth import burn

HOUR_S = 3600.0


def c(temperature_f: float) -> float:
    return (temperature_f - 32.0) / 1.8


def read(at_s: float, temperature_f: float) -> AirReading:
    return AirReading(at_s, c(temperature_f))


BIRDS = (BirdLoad(1.7, (Span(2700.0),)), BirdLoad(1.7, (Span(2700.0),)))
STEADY = FireEvidence(
    lit_s=0.0,
    fuel=(FuelLoad(0.0, 60),),
    birds=BIRDS,
    readings=(read(2600, 372), read(3900, 370), read(5100, 366)),
)


def forecast(evidence: FireEvidence, now_s: float, hours: float = 2.5) -> FireForecast:
    found = fire_forecast(evidence, now_s, now_s + hours * HOUR_S)
    assert found is not None
    return found


def leaves(found: FireForecast) -> float:
    return float("inf") if found.leaves.q50 is None else found.leaves.q50


def test_nothing_known_is_no_forecast() -> None:
    """Without fire, fuel or reading there is nothing to say."""
    assert fire_forecast(FireEvidence(), 0.0, HOUR_S) is None


def test_the_same_evidence_gives_the_same_answer() -> None:
    """Deterministic to the last bit."""
    assert forecast(STEADY, 5400) == forecast(replace(STEADY), 5400)


def test_quantiles_are_ordered_and_not_past() -> None:
    """0.1 <= 0.5 <= 0.9, none before now."""
    found = forecast(STEADY, 5400)
    order = [q if q is not None else float("inf") for q in (
        found.leaves.q10, found.leaves.q50, found.leaves.q90)]  # fmt: skip
    assert order == sorted(order)
    assert order[0] >= 5400
    for _, q10, q50, q90 in found.path:
        assert q10 <= q50 <= q90


def test_the_reading_pulls_the_estimate() -> None:
    """A dial at 330 F leaves the cloud near 330 F whatever the fuel promised."""
    low = replace(STEADY, readings=(*STEADY.readings[:2], read(5100, 330)))
    assert abs(forecast(low, 5100).now_c[1] - c(330)) < 8.0


def test_one_wild_reading_does_not_take_over() -> None:
    """370, 60, 370: the middle one is outvoted."""
    wild = replace(STEADY, readings=(read(2600, 372), read(3900, 60), read(5100, 368)))
    assert abs(forecast(wild, 5100).now_c[1] - c(366)) < 12.0


def test_more_fuel_holds_longer() -> None:
    """Twenty briquettes added twenty minutes ago put the end of the band off."""
    fed = replace(STEADY, fuel=(*STEADY.fuel, FuelLoad(5100, 20)))
    assert leaves(forecast(fed, 6300)) > leaves(forecast(STEADY, 6300)) + 900


def test_a_weaker_fire_leaves_sooner() -> None:
    """A grill falling through 355 F leaves before one at 370 F."""
    falling = replace(STEADY, readings=(read(2600, 385), read(3900, 370), read(5100, 356)))
    assert leaves(forecast(falling, 5400)) < leaves(forecast(STEADY, 5400))


def test_cold_weather_burns_more() -> None:
    """At the same dial, frost outside means more briquettes an hour."""
    frost = forecast(replace(STEADY, outside_c=-10.0), 5400).pieces_per_hour
    assert frost > forecast(STEADY, 5400).pieces_per_hour


def test_birds_are_a_load() -> None:
    """Before any reading with them on, two cold birds pull the grill down."""
    bare = replace(STEADY, birds=(), readings=STEADY.readings[:1])
    loaded = replace(bare, birds=BIRDS)
    assert forecast(loaded, 4500).now_c[1] < forecast(bare, 4500).now_c[1] - 5.0


def test_an_open_lid_cools_and_comes_back() -> None:
    """Ten minutes open cost heat at once; twenty minutes later it is mostly back."""
    opened = replace(STEADY, lid_open=(Span(5400, 6000),))
    before, during = forecast(STEADY, 6000).now_c[1], forecast(opened, 6000).now_c[1]
    assert during < before - 15.0
    assert forecast(opened, 7500).now_c[1] > during + 10.0


def test_kinds_differ() -> None:
    """Fifteen minutes after it went on, a poured chimney heats, lump has caught
    sooner than briquettes, and lump is spent sooner."""
    base = replace(STEADY, readings=STEADY.readings[:1])

    def gain(kind: str, count: float, at_s: float) -> float:
        """Degrees over the grill without that load."""
        fed = replace(base, fuel=(*base.fuel, FuelLoad(2700, count, kind)))
        return forecast(fed, at_s).now_c[1] - forecast(base, at_s).now_c[1]

    assert gain("chimney", 0.25, 3300) > gain("lump", 12, 3300) > gain("briquettes", 20, 3300)
    lump = gain("lump", 12, 2700 + 2.5 * HOUR_S) / gain("lump", 12, 5400)
    assert lump < gain("briquettes", 20, 2700 + 2.5 * HOUR_S) / gain("briquettes", 20, 5400)


def test_burn_rate_matches_the_heat_balance() -> None:
    """Two birds at 370 F burn within the 5 to 95 % span of the derived balance."""
    rows = (Path(__file__).parents[2] / "references" / "kettle_heat_balance.csv").read_text()
    table = {
        row["quantity"]: row
        for row in csv.DictReader(x for x in rows.splitlines() if not x.startswith("#"))
    }
    rate = table["briquettes per hour at 25 g"]
    assert rate["mark"] == "b"
    found = forecast(STEADY, 5100).pieces_per_hour
    assert float(rate["p05"]) < found < float(rate["p95"])


def test_past_cooks_move_the_forecast() -> None:
    """A kitchen known to lose more heat burns more from the first minute."""
    bare = FireEvidence(lit_s=0.0, fuel=(FuelLoad(0.0, 60),))
    leaky = replace(bare, kitchen=Kitchen(3, (("fire_loss", 0.4, 0.05),)))
    assert forecast(leaky, 4000).now_c[1] < forecast(bare, 4000).now_c[1] - 10.0


def test_a_leaky_grill_is_learned() -> None:
    """From a truth losing half as much again per joule, the learned ratio says so."""
    truth = burn(seed=5, ratio=1.4)
    found = {name: shift for name, shift, _ in learned_from(truth.evidence, truth.end_s)}
    usual = burn(seed=5, ratio=1.0)
    base = {name: shift for name, shift, _ in learned_from(usual.evidence, usual.end_s)}
    gained = (found["fire_loss"] - found["fire_heat"]) - (base["fire_loss"] - base["fire_heat"])
    assert gained > 0.05


def test_crossings_ignore_a_short_dip() -> None:
    """Six minutes out of the band with a lid off is not leaving it."""
    times = np.arange(0.0, 3600.0, 120.0)
    temps = np.full((times.size, 1), 190.0)
    temps[5:8] = 160.0
    _, left, _ = crossings(times, temps, (177.0, 204.0), 3000.0)
    assert np.isinf(left[0])
    temps[15:] = 160.0
    settled, left, cold = crossings(times, temps, (177.0, 204.0), 3000.0)
    assert settled[0] == 0.0
    assert left[0] == times[15]
    assert cold[0]


def test_a_grill_still_coming_up_has_not_left() -> None:
    """It settles first; leaving counts from there."""
    times = np.arange(0.0, 4800.0, 120.0)
    temps = np.minimum(30.0 + 10.0 * np.arange(times.size), 190.0)[:, None]
    settled, left, _ = crossings(times, temps, (177.0, 204.0), 4000.0)
    assert settled[0] == 15 * 120.0
    assert np.isinf(left[0])


@pytest.mark.slow
def test_eighty_percent_means_eighty_percent() -> None:
    """On fires burnt by another law with other constants, the grill an hour on lies
    in the forecast's 80 % interval in 65 to 95 % of 60 fires."""
    inside = 0
    for seed in range(60):
        truth = burn(seed)
        found = forecast(truth.evidence, truth.now_s, 1.0)
        _, q10, _, q90 = found.path[-1]
        inside += q10 <= truth.at(found.path[-1][0]) <= q90
    assert 0.65 <= inside / 60 <= 0.95
