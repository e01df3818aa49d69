"""What happens at a bird's surface: convection, radiation, an evaporating skin.

The skin starts wet and dries out as water leaves it; its evaporation follows the
heat and mass transfer analogy of Chilton and Colburn (Lewis number near 1).
"""

import math
from dataclasses import dataclass

import numpy as np

from assistant.heat.bird.properties import Array

STEFAN_BOLTZMANN = 5.670374e-8  # W/(m2 K4)
EMISSIVITY = 0.9
CONVECTION_FIRE = 9.0  # W/(m2 K): natural convection 6, a little more for turning and draught
CONVECTION_OUTSIDE = 8.0
LATENT_J_KG = 2.33e6
LEWIS_FACTOR = 1.0 / (0.95 * 1010.0)  # m3 K/J: mass transfer per heat transfer coefficient
WATER_GAS = 461.5  # J/(kg K)
MAGNUS, MAGNUS_ZERO_K = 17.625 * 243.04, 273.15 - 243.04
VAPOUR_LIMIT = 610.94 * math.exp(17.625) / WATER_GAS  # kg K/m3
VAPOUR_FIRE_KG_M3 = 0.02  # of burning charcoal's gas and of what the meat gives off
VAPOUR_OUTSIDE_KG_M3 = 0.01
POOL_KG_M2 = 0.25  # water that leaves before the skin's wetness has fallen to 1/e
DRY_SHARE = 0.12  # of the first wetness that moisture from below keeps up


def vapour_kg_m3(kelvin: Array) -> tuple[Array, Array]:
    """Saturated vapour density over water at temperatures in K, and its slope (Magnus
    formula: 610.94 Pa exp(17.625 t / (t + 243.04)), t in C)."""
    exponent = -MAGNUS / (kelvin - MAGNUS_ZERO_K)
    inverse = 1.0 / kelvin
    density = np.exp(exponent)
    density *= inverse
    density *= VAPOUR_LIMIT
    slope = exponent * exponent
    slope *= 1.0 / MAGNUS
    slope -= inverse
    slope *= density
    return density, slope


@dataclass(frozen=True, slots=True, eq=False)
class Exchange:
    """What the skin exchanges heat with, for given shares of a step over the fire and off
    it: convection and radiation with the fire and with all, and the open air's own flux."""

    fire_h: Array
    fire_r: Array
    h: Array
    r: Array
    outside: Array | None
    vapour: Array | float
    evaporation: Array


class Skin:
    """The surface of an ensemble of shape (birds, particles), drying as it goes.

    `on` and `off` (steps, birds) are the shares of each step spent over the fire and
    in the open air; neither: not yet out of the cold. `fire_c` (steps, particles) is
    the grill's temperature. `gain` multiplies heat transfer over the fire, `wet` the
    evaporation.
    """

    def __init__(
        self, *, gain: Array, wet: Array, on: Array, off: Array, fire_c: Array, outside_c: float,
        dt_s: float,
    ) -> None:  # fmt: skip
        self.on, self.off = on.astype(gain.dtype), off.astype(gain.dtype)
        self.outside_c, self.drying = outside_c, dt_s / POOL_KG_M2 / LATENT_J_KG
        self.fire_c, self.fire_k4 = fire_c, (fire_c + 273.15) ** 4
        self.convection = gain * CONVECTION_FIRE
        self.radiation = gain * (EMISSIVITY * STEFAN_BOLTZMANN)
        self.wet = wet * (LEWIS_FACTOR * LATENT_J_KG)
        shape = np.broadcast_shapes(gain.shape, wet.shape)
        self.moist: Array = np.full(shape, 1.0 - DRY_SHARE, gain.dtype)
        # Shares seldom change from step to step: what they make is kept, run by run.
        change = (np.diff(on, axis=0) != 0.0) | (np.diff(off, axis=0) != 0.0)
        self.run: list[int] = [0, *np.cumsum(change.any(axis=1)).tolist()]
        self.kept: tuple[int, Exchange] = (-1, self._exchange(0))

    def __call__(self, step: int, surface_c: Array) -> tuple[Array, Array]:
        """Net flux into the surface and its slope."""
        given = self._given(step)
        kelvin = surface_c + 273.15
        radiated = kelvin * kelvin
        radiated *= kelvin
        radiated *= given.r
        slope = radiated * -4.0
        slope -= given.h
        radiated *= kelvin
        flux = given.fire_h * self.fire_c[step]
        flux += given.fire_r * self.fire_k4[step]
        if given.outside is not None:
            flux += given.outside
        flux -= given.h * surface_c
        flux -= radiated
        density, rise = vapour_kg_m3(kelvin)
        density -= given.vapour
        np.maximum(density, 0.0, out=density)
        transfer = self.moist + DRY_SHARE
        transfer *= given.evaporation
        density *= transfer
        flux -= density
        density *= self.drying
        density += 1.0
        self.moist /= density
        rise *= transfer
        slope -= rise
        return flux, slope

    def _given(self, step: int) -> Exchange:
        run = self.run[step]
        if self.kept[0] != run:
            self.kept = run, self._exchange(step)
        return self.kept[1]

    def _exchange(self, step: int) -> Exchange:
        h, r = self.convection, self.radiation
        on, off = self.on[step][:, None], self.off[step][:, None]
        if (on == 1.0).all():
            return Exchange(h, r, h, r, None, VAPOUR_FIRE_KG_M3, h * self.wet)
        outer_h, outer_r = off * CONVECTION_OUTSIDE, off * (EMISSIVITY * STEFAN_BOLTZMANN)
        outside = outer_h * self.outside_c + outer_r * (self.outside_c + 273.15) ** 4
        fire_h, fire_r = on * h, on * r
        all_h = fire_h + outer_h
        return Exchange(
            fire_h, fire_r, all_h, fire_r + outer_r, outside,
            on * VAPOUR_FIRE_KG_M3 + off * VAPOUR_OUTSIDE_KG_M3, all_h * self.wet,
        )  # fmt: skip
