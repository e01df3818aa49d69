"""The surface: convection, radiation, evaporation and drying."""

import numpy as np
import pytest
from CoolProp import CoolProp

from assistant.heat.bird import skin
from assistant.heat.bird.skin import Skin


def surface(*, on: float, wet: float = 0.3, fire_c: float = 190.0, steps: int = 200) -> Skin:
    share = np.full((steps, 1), on)
    return Skin(
        gain=np.ones((1, 1)), wet=np.full((1, 1), wet), on=share, off=1.0 - share,
        fire_c=np.full((steps, 1), fire_c), outside_c=20.0, dt_s=60.0,
    )  # fmt: skip


@pytest.mark.parametrize("at_c", [20.0, 60.0, 95.0])
def test_vapour_density_is_that_of_saturated_steam(at_c: float) -> None:
    density, _ = skin.vapour_kg_m3(np.array([at_c + 273.15]))
    steam = CoolProp.PropsSI("D", "T", at_c + 273.15, "Q", 1, "Water")
    assert density[0] == pytest.approx(steam, rel=0.02)


@pytest.mark.parametrize("on", [0.0, 0.4, 1.0])
def test_slope_is_the_derivative_of_the_flux(on: float) -> None:
    at_c = np.array([[70.0]])
    flux, slope = surface(on=on)(0, at_c)
    higher, _ = surface(on=on)(0, at_c + 0.01)
    assert (higher - flux)[0, 0] / 0.01 == pytest.approx(slope[0, 0], rel=1e-3)


def test_transfer_over_the_fire_is_that_of_the_references() -> None:
    """Convection and radiation, 18 to 21 W/(m2 K) at 80 C in 163 to 204 C air; the fire's
    own draught and the turning add a little convection."""
    for air_c in (163.0, 204.0):
        flux, _ = surface(on=1.0, wet=0.0, fire_c=air_c)(0, np.array([[80.0]]))
        assert 18.0 < flux[0, 0] / (air_c - 80.0) < 25.0


def test_a_wet_skin_stays_colder_and_dries() -> None:
    wet, dry = surface(on=1.0, wet=0.5), surface(on=1.0, wet=0.0)
    at_c = np.array([[90.0]])
    first, _ = wet(0, at_c)
    bare, _ = dry(0, at_c)
    assert first[0, 0] < bare[0, 0] - 300.0
    for step in range(1, 150):
        later, _ = wet(step, at_c)
    assert first[0, 0] + 100.0 < later[0, 0] < bare[0, 0]


def test_off_the_fire_a_hot_skin_loses_heat() -> None:
    flux, _ = surface(on=0.0)(0, np.array([[90.0]]))
    assert flux[0, 0] < -500.0


def test_before_it_goes_on_nothing_happens() -> None:
    never = np.zeros((5, 1))
    asleep = Skin(
        gain=np.ones((1, 1)), wet=np.ones((1, 1)), on=never, off=never,
        fire_c=np.full((5, 1), 190.0), outside_c=20.0, dt_s=60.0,
    )  # fmt: skip
    flux, slope = asleep(0, np.array([[5.0]]))
    assert flux[0, 0] == slope[0, 0] == 0.0
