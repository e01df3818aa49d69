"""The balance aid in words: from one trial weight to a counterweight or a shift."""

from math import radians

from assistant.heat.balance import counterweight_kg, imbalance_from_trial, shift_m
from assistant.system.units import parse_length_m, parse_mass_kg, units

SPENT_KG_M = 0.002  # a motor does not feel less than this


def balance_text(trial: str, radius: str, turned_deg: float, bird: str | None) -> str:
    """Return what to hang or shift, given what one trial weight did.

    The loaded spit stops heavy side down. `trial` is hung at `radius` a quarter turn
    from it, and the spit turns by `turned_deg` toward it. `bird`: the weight of the
    bird that could be shifted. Raises ValueError for what cannot be.
    """
    radius_m = parse_length_m(radius)
    moment = imbalance_from_trial(parse_mass_kg(trial), radius_m, radians(turned_deg))
    if moment < SPENT_KG_M:
        return "Near enough: the motor will not feel it."
    weight = counterweight_kg(moment, radius_m)
    lines = [
        f"Heavy side: {moment * 100:.2f} kg cm.",
        f"Hang {_mass(weight)} at {radius.strip()} opposite the heavy side",
    ]
    if bird is not None:
        shift = shift_m(moment, parse_mass_kg(bird))
        lines[-1] += ","
        lines.append(f"or move the {bird.strip()} bird {_length(shift)} toward the light side")
    lines[-1] += "."
    return "\n".join(lines)


def _mass(mass_kg: float) -> str:
    ounces = float(units().Quantity(mass_kg, "kilogram").to("ounce").magnitude)
    return f"{ounces:.1f} oz ({mass_kg * 1000:.0f} g)"


def _length(length_m: float) -> str:
    inches = float(units().Quantity(length_m, "meter").to("inch").magnitude)
    return f"{inches:.1f} in ({length_m * 100:.1f} cm)"
