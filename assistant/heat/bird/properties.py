"""Thermal properties of meat from its composition.

Component equations of Choi and Okos (1986), as printed in the ASHRAE Handbook -
Refrigeration (2006), chapter 9, tables 1 and 2: c0 + c1 t + c2 t^2, t in degrees
Celsius, -40 to 150. Water's specific heat uses 4.1762, the constant quoted from
the 1986 paper: the ASHRAE print's 4.1289 lies 1 % below liquid water.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating]

CONDUCTIVITY_W_MK = {
    "water": (0.57109, 1.7625e-3, -6.7036e-6),
    "protein": (0.17881, 1.1958e-3, -2.7178e-6),
    "fat": (0.18071, -2.7604e-4, -1.7749e-7),
    "carbohydrate": (0.20141, 1.3874e-3, -4.3312e-6),
    "fibre": (0.18331, 1.2497e-3, -3.1683e-6),
    "ash": (0.32962, 1.4011e-3, -2.9069e-6),
}
DENSITY_KG_M3 = {
    "water": (997.18, 3.1439e-3, -3.7574e-3),
    "protein": (1329.9, -0.51840, 0.0),
    "fat": (925.59, -0.41757, 0.0),
    "carbohydrate": (1599.1, -0.31046, 0.0),
    "fibre": (1311.5, -0.36589, 0.0),
    "ash": (2423.8, -0.28063, 0.0),
}
SPECIFIC_HEAT_KJ_KGK = {
    "water": (4.1762, -9.0864e-5, 5.4731e-6),
    "protein": (2.0082, 1.2089e-3, -1.3129e-6),
    "fat": (1.9842, 1.4733e-3, -4.8008e-6),
    "carbohydrate": (1.5488, 1.9625e-3, -5.9399e-6),
    "fibre": (1.8459, 1.8306e-3, -4.6509e-6),
    "ash": (1.0926, 1.8896e-3, -3.6817e-6),
}

# USDA SR 05062 and 05096 (raw breast and thigh, meat only), averaged; ash about 1 g.
LEAN_CHICKEN = {"water": 75.06, "protein": 21.08, "fat": 3.37, "ash": 1.0}


@dataclass(frozen=True, slots=True)
class Mixture:
    """W/(m K), kg/m3 and J/(kg K) of a mixture at one temperature."""

    conductivity_parallel: float
    conductivity_series: float
    density: float
    specific_heat: float

    @property
    def conductivity(self) -> float:
        """Between the two bounds, where measured white meat lies (Sweat et al. 1973)."""
        return 0.5 * (self.conductivity_parallel + self.conductivity_series)


@dataclass(frozen=True, slots=True)
class Meat:
    """What conduction needs: k = k0 + k1 t in W/(m K), t in C; rho cp in J/(m3 K)."""

    k0: float
    k1: float
    rho_cp: float

    def conductivity(self, temperature_c: float) -> float:
        """W/(m K) at a temperature in C."""
        return self.k0 + self.k1 * temperature_c


def component(table: Mapping[str, tuple[float, float, float]], name: str, at_c: float) -> float:
    """One component's property at a temperature; KeyError for an unknown component."""
    c0, c1, c2 = table[name]
    return c0 + at_c * (c1 + at_c * c2)


def mix(composition: Mapping[str, float], at_c: float) -> Mixture:
    """Mix components given in g per 100 g (normalised here) at a temperature in C."""
    total = sum(composition.values())
    mass = {name: grams / total for name, grams in composition.items()}
    specific_volume = {
        name: share / component(DENSITY_KG_M3, name, at_c) for name, share in mass.items()
    }
    volume = sum(specific_volume.values())
    share = {name: part / volume for name, part in specific_volume.items()}
    k = {name: component(CONDUCTIVITY_W_MK, name, at_c) for name in mass}
    cp = sum(mass[name] * component(SPECIFIC_HEAT_KJ_KGK, name, at_c) for name in mass)
    return Mixture(
        conductivity_parallel=sum(share[name] * k[name] for name in mass),
        conductivity_series=1.0 / sum(share[name] / k[name] for name in mass),
        density=1.0 / volume,
        specific_heat=1000.0 * cp,
    )


@lru_cache
def lean_chicken() -> Meat:
    """Raw lean chicken: k fitted linearly over 2 to 85 C, rho cp averaged (it moves by 1 %)."""
    at_c = np.linspace(2.0, 85.0, 20)
    mixtures = [mix(LEAN_CHICKEN, float(t)) for t in at_c]
    k1, k0 = np.polyfit(at_c, [m.conductivity for m in mixtures], 1)
    rho_cp = float(np.mean([m.density * m.specific_heat for m in mixtures]))
    return Meat(k0=float(k0), k1=float(k1), rho_cp=rho_cp)
