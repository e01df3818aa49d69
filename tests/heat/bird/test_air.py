"""The grill's path between spoken readings."""

import numpy as np
import pytest

from assistant.heat.bird import air
from assistant.heat.bird.evidence import AirReading, BirdEvidence, CoreReading, Evidence, Span

ON = BirdEvidence(1, on_heat=(Span(0.0),))


def path_at(evidence: Evidence, *at_s: float) -> tuple[list[float], list[float]]:
    """Means and standard deviations of the path."""
    knots = np.arange(0.0, 14_400.0, 600.0)
    path = air.path(evidence, knots)
    sd = np.sqrt((path.factor**2).sum(axis=1))
    return [float(np.interp(t, knots, path.mean_c)) for t in at_s], [
        float(np.interp(t, knots, sd)) for t in at_s
    ]


def test_without_a_reading_the_grill_is_somewhere_about_its_band() -> None:
    (mean,), (sd,) = path_at(Evidence((ON,)), 3600.0)
    assert mean == pytest.approx((350.0 + 400.0 - 64.0) / 3.6, abs=0.1)
    assert 15.0 < sd < 35.0


def test_a_reading_is_believed_where_it_was_made_and_less_and_less_later() -> None:
    evidence = Evidence((ON,), grill=(AirReading(1200.0, 165.0),))
    means, sds = path_at(evidence, 1200.0, 3600.0, 10_800.0)
    assert means[0] == pytest.approx(165.0, abs=4.0)
    assert means[0] < means[1] < means[2] < 190.6
    assert sds[0] < sds[1] < sds[2]


def test_one_slip_of_the_tongue_hardly_moves_the_path() -> None:
    """370, 365, 375 F and between them "seven thirty"."""
    good = tuple(AirReading(600.0 * k, c) for k, c in enumerate((188.0, 185.0, 190.0, 187.0)))
    wild = (*good[:2], AirReading(900.0, 388.0), *good[2:])
    (calm,), _ = path_at(Evidence((ON,), grill=good), 900.0)
    (slip,), _ = path_at(Evidence((ON,), grill=wild), 900.0)
    assert slip == pytest.approx(calm, abs=6.0)


def test_readings_of_the_lighting_fire_are_left_out() -> None:
    early = (AirReading(-5400.0, 60.0), AirReading(-4000.0, 110.0))
    assert path_at(Evidence((ON,), grill=early), 0.0) == path_at(Evidence((ON,)), 0.0)


def test_fresh_fuel_makes_the_future_less_sure() -> None:
    read = (AirReading(600.0, 185.0),)
    _, (calm,) = path_at(Evidence((ON,), grill=read), 3600.0)
    _, (fed,) = path_at(Evidence((ON,), grill=read, fuel_added_s=(900.0,)), 3600.0)
    assert fed > calm + 1.0


def test_an_open_lid_lets_the_warmth_out_and_it_comes_back() -> None:
    evidence = Evidence((ON,), lid_open=(Span(1200.0, 1500.0),))
    missing = air.dips(evidence, 3600.0, 0.0, 60.0, 60, 0.0)
    assert missing[:20].max() == 0.0
    assert missing[24] == pytest.approx(air.LID_DEPTH, rel=0.02)
    assert 0.0 < missing[30] < 0.3 * missing[24]


def test_every_reading_over_the_fire_opens_the_lid_once() -> None:
    reads = (CoreReading(1200.0, 30.0), CoreReading(1210.0, 31.0), CoreReading(3000.0, 50.0))
    bird = BirdEvidence(1, on_heat=(Span(0.0, 2500.0),), readings=reads)
    assert len(air.openings(Evidence((bird,)), 3600.0)) == 1


def test_a_lid_that_was_announced_is_not_counted_twice() -> None:
    bird = BirdEvidence(1, on_heat=(Span(0.0),), readings=(CoreReading(1200.0, 30.0),))
    evidence = Evidence((bird,), lid_open=(Span(1190.0, 1260.0),))
    assert air.openings(evidence, 3600.0) == (Span(1190.0, 1260.0),)


def test_an_open_lid_stays_open_until_now() -> None:
    evidence = Evidence((ON,), lid_open=(Span(1200.0),))
    assert air.openings(evidence, 1500.0) == (Span(1200.0, 1500.0),)


def test_an_assumed_grill_holds_its_temperature() -> None:
    evidence = air.assume(Evidence((ON,)), 0.0, 150.0)
    means, sds = path_at(evidence, 1200.0, 7200.0, 12_000.0)
    assert means == pytest.approx([150.0] * 3, abs=2.0)
    assert max(sds) < 10.0
