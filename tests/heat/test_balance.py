"""The balance aid against moment arithmetic worked by hand."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import atan, atan2, cos, hypot, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.heat.balance import counterweight_kg, imbalance_from_trial, shift_m


@dataclass(frozen=True)
class OffAxis:
    """A mass whose centre lies `off_m` off the axis, in direction `angle_rad`."""

    mass_kg: float
    off_m: float
    angle_rad: float


@dataclass(frozen=True)
class Imbalance:
    """The heavy side: how heavy, and where it points."""

    moment_kg_m: float
    angle_rad: float


def resultant(loads: Sequence[OffAxis]) -> Imbalance:
    """Add the moments of all loads as vectors around the axis."""
    x = sum(load.mass_kg * load.off_m * cos(load.angle_rad) for load in loads)
    y = sum(load.mass_kg * load.off_m * sin(load.angle_rad) for load in loads)
    return Imbalance(hypot(x, y), atan2(y, x))


def test_two_birds_on_one_side() -> None:
    """1.6 kg at 2 cm and 1.8 kg at 1 cm the same way: 0.032 + 0.018 = 0.050 kg m."""
    found = resultant([OffAxis(1.6, 0.02, 0.0), OffAxis(1.8, 0.01, 0.0)])
    assert found.moment_kg_m == pytest.approx(0.050)
    assert found.angle_rad == pytest.approx(0.0)


def test_a_right_angle() -> None:
    """0.03 one way and 0.04 a quarter turn on make 0.05 at atan(4/3)."""
    found = resultant([OffAxis(1.5, 0.02, 0.0), OffAxis(2.0, 0.02, pi / 2)])
    assert found.moment_kg_m == pytest.approx(0.05)
    assert found.angle_rad == pytest.approx(atan(4 / 3))


def test_breasts_facing_away_cancel() -> None:
    """Two equal birds turned half a turn apart need nothing."""
    found = resultant([OffAxis(1.7, 0.015, 0.4), OffAxis(1.7, 0.015, 0.4 + pi)])
    assert found.moment_kg_m == pytest.approx(0.0, abs=1e-12)


def test_counterweight_and_shift() -> None:
    """0.05 kg m is 0.5 kg at 10 cm, or a 2 kg bird moved by 2.5 cm."""
    assert counterweight_kg(0.05, 0.10) == pytest.approx(0.5)
    assert shift_m(0.05, 2.0) == pytest.approx(0.025)


def test_trial_weight() -> None:
    """0.2 kg at 15 cm turning the spit by 45 degrees means 0.03 kg m."""
    assert imbalance_from_trial(0.2, 0.15, pi / 4) == pytest.approx(0.03)


@given(st.floats(0.005, 0.2), st.floats(0.05, 0.5), st.floats(0.05, 0.3))
def test_trial_weight_stops_where_moments_balance(
    moment_kg_m: float, trial_kg: float, radius_m: float
) -> None:
    """At the stop of heavy side plus trial weight the resultant hangs straight down."""
    loads = [
        OffAxis(moment_kg_m, 1.0, 0.0),  # heavy side, down before the weight
        OffAxis(trial_kg, radius_m, pi / 2),
    ]
    turned = resultant(loads).angle_rad
    assert imbalance_from_trial(trial_kg, radius_m, turned) == pytest.approx(moment_kg_m)
    assert sin(turned) * cos(turned) > 0


@given(st.lists(st.tuples(st.floats(0.3, 6), st.floats(0, 0.05), st.floats(0, 6.2)), max_size=8))
def test_a_counterweight_opposite_the_heavy_side_leaves_nothing(
    loads: list[tuple[float, float, float]],
) -> None:
    """Adding the advised counterweight brings the moment to zero."""
    birds = [OffAxis(*load) for load in loads]
    found = resultant(birds)
    weight = OffAxis(counterweight_kg(found.moment_kg_m, 0.12), 0.12, found.angle_rad + pi)
    assert resultant([*birds, weight]).moment_kg_m == pytest.approx(0.0, abs=1e-12)


@pytest.mark.parametrize("turned_rad", [0.0, -0.1, pi / 2])
def test_a_turn_that_says_nothing(turned_rad: float) -> None:
    """No turn, or a whole quarter, gives no moment and is refused."""
    with pytest.raises(ValueError, match="quarter turn"):
        imbalance_from_trial(0.2, 0.15, turned_rad)


def test_nothing_divides_by_zero() -> None:
    """A zero radius or weight is refused with what is missing."""
    with pytest.raises(ValueError, match="radius"):
        counterweight_kg(0.05, 0.0)
    with pytest.raises(ValueError, match="weight"):
        shift_m(0.05, 0.0)
    with pytest.raises(ValueError, match="trial"):
        imbalance_from_trial(0.0, 0.15, 0.5)
