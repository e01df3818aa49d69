"""A few exponential modes against the exact series and against the marching solver."""

import numpy as np
import pytest

from assistant.heat.bird import conduction
from assistant.heat.bird.modes import Modes, modes
from assistant.heat.bird.properties import Array, Meat
from tests.heat.tables import rows

SHAPES = {"sphere": 2.0, "cylinder": 1.0, "wall": 0.0}
ROASTED = [
    row for row in rows("transient_centre_series", "b")
    if row["shape"] in SHAPES and 0.5 <= float(row["Bi"]) <= 10.0
    and 0.2 <= float(row["theta0_exact"]) <= 0.8
]  # fmt: skip
UNIT = Meat(k0=1.0, k1=0.0, rho_cp=1.0)


def body(biot: float, exponent: float) -> Modes:
    return modes(np.array([biot]), np.array([exponent]))


def centre(found: Modes, fourier: Array) -> Array:
    """Theta at the centre, start 1 and air 0."""
    decay = np.exp(-np.outer(fourier, found.rate[:, 0]))
    theta: Array = decay @ found.centre[:, 0]
    return theta


@pytest.mark.parametrize(
    "row", ROASTED, ids=lambda row: f"{row['shape']}-Bi{row['Bi']}-Fo{row['Fo']}"
)
def test_a_centre_between_a_fifth_and_four_fifths_done_follows_the_exact_series(
    row: dict[str, str],
) -> None:
    """The range a roast is looked at in: within a twentieth of the way."""
    found = body(float(row["Bi"]), SHAPES[row["shape"]])
    theta = centre(found, np.array([float(row["Fo"])]))[0]
    assert theta == pytest.approx(float(row["theta0_exact"]), abs=0.05)


@pytest.mark.parametrize("exponent", [0.0, 0.85, 2.0])
@pytest.mark.parametrize("biot", [0.5, 2.0, 8.0])
def test_no_cooling_outside_ever_warms_the_centre(biot: float, exponent: float) -> None:
    """Ten minutes off the heat must not make a bird done sooner: the centre's response to
    a moment's warmth is nowhere negative, but for what interpolation leaves at first."""
    found = body(biot, exponent)
    fourier = np.linspace(0.0, 2.0, 400)
    weights = (found.centre * found.rate)[:, 0]
    response = np.exp(-np.outer(fourier, found.rate[:, 0])) @ weights
    assert response.min() > -0.015 * response.max()
    assert (response[fourier > 0.02] > 0.0).all()


def test_a_bird_taken_off_and_put_back_follows_the_marching_solver() -> None:
    """Relative temperatures in changing surroundings: 1 over the fire, 0.2 off it."""
    biot, exponent, dt = 2.5, 1.0, 0.002
    felt = np.ones(250)
    felt[120:150] = 0.2

    def surface(step: int, surface_c: Array) -> tuple[Array, Array]:
        return biot * (felt[step // 20] - surface_c), np.full_like(surface_c, -biot)

    one, seen = np.ones((1, 1)), np.empty(felt.size * 20 + 1)

    def watch(step: int, temperature: Array) -> bool:
        seen[step] = conduction.centre(temperature).item()
        return False

    mesh = conduction.grid(24, exponent)
    assert conduction.stable_step_s(mesh, one, UNIT) > dt / 20.0
    conduction.march(mesh, UNIT, one, 0.0 * one, surface, dt / 20.0, felt.size * 20, watch)
    found = body(biot, exponent)
    y = np.zeros(found.rate.shape[0])
    for step, surroundings in enumerate(felt):
        y += -np.expm1(-found.rate[:, 0] * dt) * (surroundings - y)
        assert y @ found.centre[:, 0] == pytest.approx(seen[20 * (step + 1)], abs=0.03)


def test_weights_sum_to_one_and_shapes_between_the_table_are_between() -> None:
    for exponent in (0.3, 0.85, 1.7):
        found = body(3.0, exponent)
        assert found.centre.sum() == pytest.approx(1.0)
        assert found.probed.sum() == pytest.approx(1.0)
    slowest = [body(3.0, exponent).rate[0, 0] for exponent in (0.0, 0.5, 1.0, 2.0)]
    assert slowest == sorted(slowest)
