"""Balancing the load on a spit by plain moments.

Masses kg, distances m, angles rad around the spit's axis.
A moment here is mass times distance off the axis, kg m: gravity cancels out.
"""

from math import tan


def imbalance_from_trial(trial_kg: float, radius_m: float, turned_rad: float) -> float:
    """Weigh the heavy side, kg m, with one known trial weight.

    The loaded spit is let free and stops heavy side down. The trial weight is
    then hung at a quarter turn from the heavy side and the spit let free again:
    it stops turned by `turned_rad` toward the weight, where the two moments
    balance: trial * radius * cos = moment * sin.
    Raises ValueError unless the turn lies between 0 and a quarter turn.
    """
    if trial_kg <= 0.0 or radius_m <= 0.0:
        raise ValueError("the trial weight and its radius must be greater than zero")
    if not 0.0 < turned_rad < 1.5707:
        raise ValueError("the spit must turn by more than nothing and less than a quarter turn")
    return trial_kg * radius_m / tan(turned_rad)


def counterweight_kg(moment_kg_m: float, radius_m: float) -> float:
    """Return the mass that balances the moment at `radius_m`, opposite the heavy side."""
    if radius_m <= 0.0:
        raise ValueError("the counterweight needs a radius greater than zero")
    return moment_kg_m / radius_m


def shift_m(moment_kg_m: float, mass_kg: float) -> float:
    """Return how far a bird's centre has to move toward the light side."""
    if mass_kg <= 0.0:
        raise ValueError("the bird to shift needs a weight greater than zero")
    return moment_kg_m / mass_kg
