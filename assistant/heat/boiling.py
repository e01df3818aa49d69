"""Where water boils, and what a bath check says about a thermometer.

Temperatures are degrees Celsius, pressures pascal at the place itself (station
pressure: a forecast's value is reduced to sea level and must not be used).
"""

from dataclasses import dataclass
from math import sqrt
from typing import Literal

Bath = Literal["ice", "boiling"]
Trust = Literal["good", "correct", "doubtful"]

SEA_LEVEL_PA = 101_325.0
ICE_C = 0.0
# A hand-held thermometer is held to +-1 C (FDA Food Code 4-203.11).
ACCURACY_C = 1.0
# Further off than this a bath is more likely wrong than the thermometer: too
# little ice, no rolling boil, a stem touching the pan.
DOUBTFUL_C = 6.0

# IAPWS-IF97, region 4, backward equation: saturation temperature from pressure.
_N = (
    0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5,
    -0.32325550322333e7, 0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6,
    -0.23855557567849, 0.65017534844798e3,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class BathCheck:
    """`correction_c` is to be added to every later reading."""

    bath: Bath
    true_c: float
    correction_c: float
    trust: Trust


def pressure_at(altitude_m: float) -> float:
    """Return the station pressure, Pa, of the ICAO standard atmosphere.

    Raises ValueError outside -500 to 9000 m: nobody grills there.
    """
    if not -500.0 <= altitude_m <= 9000.0:
        raise ValueError(f"altitude is {altitude_m:g} m; it must lie between -500 and 9000 m")
    return float(SEA_LEVEL_PA * (1.0 - 0.0065 * altitude_m / 288.15) ** 5.25588)


def altitude_at(pressure_pa: float) -> float:
    """Return the altitude, m, where standard weather has this station pressure, so that
    a barometer's word can stand for an altitude. Raises ValueError outside its range."""
    altitude_m = 288.15 / 0.0065 * (1.0 - (pressure_pa / SEA_LEVEL_PA) ** (1.0 / 5.25588))
    pressure_at(altitude_m)
    return float(altitude_m)


def boiling_point_at_pressure(pressure_pa: float) -> float:
    """Return the boiling point of water, C, at a station pressure.

    Raises ValueError outside 30 to 110 kPa.
    """
    if not 30_000.0 <= pressure_pa <= 110_000.0:
        raise ValueError(
            f"station pressure is {pressure_pa / 100:g} hPa; it must lie between 300 and 1100 hPa"
        )
    n1, n2, n3, n4, n5, n6, n7, n8, n9, n10 = _N
    beta = (pressure_pa / 1e6) ** 0.25
    e = beta**2 + n3 * beta + n6
    f = n1 * beta**2 + n4 * beta + n7
    g = n2 * beta**2 + n5 * beta + n8
    d = 2.0 * g / (-f - sqrt(f**2 - 4.0 * e * g))
    kelvin: float = 0.5 * (n10 + d - sqrt((n10 + d) ** 2 - 4.0 * (n9 + n10 * d)))
    return kelvin - 273.15


def boiling_point_at(altitude_m: float) -> float:
    """Return the boiling point of water, C, at an altitude in standard weather."""
    return boiling_point_at_pressure(pressure_at(altitude_m))


def bath_check(
    bath: Bath, read_c: float, altitude_m: float = 0.0, pressure_pa: float | None = None
) -> BathCheck:
    """Judge a thermometer by what it reads in a bath of known temperature.

    A station pressure, where known, beats the altitude: weather alone moves the
    boiling point by more than a degree. Ice water is 0 C anywhere.
    """
    if bath == "ice":
        true_c = ICE_C
    elif pressure_pa is not None:
        true_c = boiling_point_at_pressure(pressure_pa)
    else:
        true_c = boiling_point_at(altitude_m)
    off_c = true_c - read_c
    trust: Trust = "good" if abs(off_c) <= ACCURACY_C else "correct"
    if abs(off_c) > DOUBTFUL_C:
        trust = "doubtful"
    return BathCheck(bath, true_c, off_c, trust)
