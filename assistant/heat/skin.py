"""What happens at a bird's surface: convection, radiation, an evaporating skin.

The skin starts wet and dries out as water leaves it; its evaporation follows the
heat and mass transfer analogy of Chilton and Colburn (Lewis number near 1).
"""

import numpy as np

from assistant.heat.properties import Array

STEFAN_BOLTZMANN = 5.670374e-8  # W/(m2 K4)
EMISSIVITY = 0.9
CONVECTION_FIRE = 9.0  # W/(m2 K): natural convection 6, a little more for turning and draught
CONVECTION_OUTSIDE = 8.0
LATENT_J_KG = 2.33e6
LEWIS_FACTOR = 1.0 / (0.95 * 1010.0)  # m3 K/J: mass transfer per heat transfer coefficient
WATER_GAS = 461.5  # J/(kg K)
VAPOUR_FIRE_KG_M3 = 0.02  # of burning charcoal's gas and of what the meat gives off
VAPOUR_OUTSIDE_KG_M3 = 0.01
POOL_KG_M2 = 0.25  # water that leaves before the skin's wetness has fallen to 1/e
DRY_SHARE = 0.12  # of the first wetness that moisture from below keeps up


def vapour_kg_m3(surface_c: Array) -> tuple[Array, Array]:
    """Saturated vapour density over water, and its slope (Magnus formula)."""
    below = surface_c + 243.04
    pressure = 610.94 * np.exp(17.625 * surface_c / below)
    kelvin = surface_c + 273.15
    density = pressure / (WATER_GAS * kelvin)
    slope = density * (17.625 * 243.04 / (below * below) - 1.0 / kelvin)
    return density, slope


class Skin:
    """The surface of an ensemble of shape (birds, particles), drying as it goes.

    `on` and `off` (steps, birds) are the shares of each step spent over the fire and
    in the open air; neither: not yet out of the cold. `fire_c` (steps, particles) is
    the grill's temperature. `gain` multiplies heat transfer over the fire, `wet` the
    evaporation. `away` (birds, particles) takes shares of a step off the fire by plan.
    """

    def __init__(
        self, *, gain: Array, wet: Array, on: Array, off: Array, fire_c: Array, outside_c: float,
        dt_s: float,
    ) -> None:  # fmt: skip
        self.on, self.off = on.astype(gain.dtype), off.astype(gain.dtype)
        self.outside_c, self.dt_s = outside_c, dt_s
        self.always_on = [bool(full) for full in np.atleast_1d((on >= 1.0).all(axis=1))]
        self.fire_c, self.fire_k4 = fire_c, (fire_c + 273.15) ** 4
        self.convection = gain * CONVECTION_FIRE
        self.radiation = gain * (EMISSIVITY * STEFAN_BOLTZMANN)
        self.wet = wet * LEWIS_FACTOR
        self.moist: Array = np.ones(np.broadcast_shapes(gain.shape, wet.shape), gain.dtype)
        self.away: Array | None = None

    def __call__(self, step: int, surface_c: Array) -> tuple[Array, Array]:
        """Net flux into the surface and its slope."""
        h, r = self.convection, self.radiation
        kelvin = surface_c + 273.15
        cube = kelvin * kelvin * kelvin
        fourth = cube * kelvin
        if self.always_on[step] and self.away is None:
            flux = h * (self.fire_c[step] - surface_c) + r * (self.fire_k4[step] - fourth)
            surroundings: Array | float = VAPOUR_FIRE_KG_M3
        else:
            on, off = self._shares(step)
            flux = on * (h * (self.fire_c[step] - surface_c) + r * (self.fire_k4[step] - fourth))
            outer_r = off * (EMISSIVITY * STEFAN_BOLTZMANN)
            flux += off * CONVECTION_OUTSIDE * (self.outside_c - surface_c)
            flux += outer_r * ((self.outside_c + 273.15) ** 4 - fourth)
            h, r = on * h + off * CONVECTION_OUTSIDE, on * r + outer_r
            surroundings = on * VAPOUR_FIRE_KG_M3 + off * VAPOUR_OUTSIDE_KG_M3
        density, rise = vapour_kg_m3(surface_c)
        transfer = h * self.wet * (DRY_SHARE + (1.0 - DRY_SHARE) * self.moist)
        leaving = transfer * np.maximum(density - surroundings, 0.0)
        self.moist /= 1.0 + leaving * (self.dt_s / POOL_KG_M2)
        flux -= LATENT_J_KG * leaving
        return flux, -(h + 4.0 * r * cube + LATENT_J_KG * transfer * rise)

    def _shares(self, step: int) -> tuple[Array, Array]:
        on, off = self.on[step][:, None], self.off[step][:, None]
        if self.away is None:
            return on, off
        return on * (1.0 - self.away), off + on * self.away
