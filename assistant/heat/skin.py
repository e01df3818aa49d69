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

    `on[step, bird]` is the share of the step spent over the fire, `off` the share
    in the open air; neither: not yet out of the cold. `fire_c(step)` is the grill's
    effective temperature. `gain` multiplies heat transfer over the fire, `wet` the
    evaporation. `resting(step)` may send single particles off the fire.
    """

    def __init__(
        self, *, gain: Array, wet: Array, on: Array, off: Array, fire_c: Array, outside_c: float,
        dt_s: float,
    ) -> None:  # fmt: skip
        self.gain, self.wet = gain, wet
        self.on, self.off = on, off
        self.fire_c, self.outside_c, self.dt_s = fire_c, outside_c, dt_s
        self.evaporated: Array = np.zeros(np.broadcast_shapes(gain.shape, wet.shape))
        self.away: Array | None = None  # (birds, particles): off the fire by plan

    def __call__(self, step: int, surface_c: Array) -> tuple[Array, Array]:
        """Net flux into the surface and its slope."""
        on = self.on[step][:, None]
        off = self.off[step][:, None]
        if self.away is not None:
            off = off + on * self.away
            on = on * (1.0 - self.away)
        fire_c = self.fire_c[step]
        weight_on = on * self.gain
        convection = weight_on * CONVECTION_FIRE + off * CONVECTION_OUTSIDE
        kelvin = surface_c + 273.15
        cube = kelvin * kelvin * kelvin
        sigma = EMISSIVITY * STEFAN_BOLTZMANN
        radiation = sigma * (
            weight_on * ((fire_c + 273.15) ** 4 - cube * kelvin)
            + off * ((self.outside_c + 273.15) ** 4 - cube * kelvin)
        )
        flux = (
            weight_on * CONVECTION_FIRE * (fire_c - surface_c)
            + off * CONVECTION_OUTSIDE * (self.outside_c - surface_c)
            + radiation
        )
        slope = -convection - 4.0 * sigma * cube * (weight_on + off)
        density, rise = vapour_kg_m3(surface_c)
        surroundings = on * VAPOUR_FIRE_KG_M3 + off * VAPOUR_OUTSIDE_KG_M3
        wetness = self.wet * (
            DRY_SHARE + (1.0 - DRY_SHARE) * np.exp(self.evaporated * (-1.0 / POOL_KG_M2))
        )
        mass_transfer = wetness * convection * LEWIS_FACTOR
        leaving = mass_transfer * np.maximum(density - surroundings, 0.0)
        self.evaporated += self.dt_s * leaving
        flux -= LATENT_J_KG * leaving
        slope -= LATENT_J_KG * mass_transfer * rise
        return flux, slope
