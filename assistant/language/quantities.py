"""Weights and temperatures as people type them, to SI; pint does the arithmetic."""

import re
from functools import lru_cache
from typing import Any

from assistant.cook.kinds import KINDS

_UNITS = {
    "lb": "pound", "lbs": "pound", "pound": "pound", "pounds": "pound",
    "oz": "ounce", "ounce": "ounce", "ounces": "ounce",
    "kg": "kilogram", "kilo": "kilogram", "kilos": "kilogram", "kilogram": "kilogram",
    "kilograms": "kilogram", "g": "gram", "gram": "gram", "grams": "gram",
}  # fmt: skip
_LENGTHS = {
    "in": "inch", "inch": "inch", "inches": "inch", "cm": "centimeter", "mm": "millimeter",
    "m": "meter",
}  # fmt: skip
_PART = re.compile(r"(\d+(?:[.,]\d+)?)\s*([a-z]+)")
_DEGREES = re.compile(r"(-?\d+(?:[.,]\d+)?)\s*°?\s*([fc])", re.IGNORECASE)
MASS_KG = (0.2, 15.0)  # a quail to a big turkey


@lru_cache(maxsize=1)
def units() -> Any:
    """Return the one unit registry (importing pint costs a third of a second)."""
    import pint

    return pint.UnitRegistry()


def parse_bird(text: str) -> tuple[str, float]:
    """Return kind and mass in kg of "3.5 lb", "5 lb 8 oz", "1.6 kg", "hen 1.25 lb".

    Raises ValueError saying what was expected.
    """
    words = text.strip().lower()
    kind = next((name for name in KINDS if words.split(" ")[0] == name), None)
    total = _summed(words.removeprefix(kind or "").strip(), _UNITS, "kilogram")
    if total is None:
        raise ValueError(
            f"{text!r} is not a weight; write it like '3.5 lb', '5 lb 8 oz', '1.6 kg'"
            f" or with a kind first ({', '.join(KINDS)})"
        )
    low, high = MASS_KG
    if not low <= total <= high:
        raise ValueError(f"{text!r} is {total:.2f} kg; a bird weighs {low:g} to {high:g} kg")
    return kind or "chicken", total


def parse_mass_kg(text: str) -> float:
    """Return kg of any weight, "8 oz" or "200 g". Raises ValueError."""
    total = _summed(text.strip().lower(), _UNITS, "kilogram")
    if total is None:
        raise ValueError(f"{text!r} is not a weight; write it like '8 oz' or '200 g'")
    return total


def parse_length_m(text: str) -> float:
    """Return metres of "6 in" or "15 cm". Raises ValueError."""
    total = _summed(text.strip().lower(), _LENGTHS, "meter")
    if total is None:
        raise ValueError(f"{text!r} is not a length; write it like '6 in' or '15 cm'")
    return total


def _summed(text: str, known: dict[str, str], unit: str) -> float | None:
    """The sum of all "number unit" parts in `unit`; None if anything else stands there."""
    parts = _PART.findall(text)
    if not parts or _PART.sub("", text).strip() or any(name not in known for _, name in parts):
        return None
    return float(
        sum(
            units().Quantity(float(number.replace(",", ".")), known[name]).to(unit).magnitude
            for number, name in parts
        )
    )


def parse_temperature_c(text: str) -> float:
    """Return degrees C of "375 F" or "190 C". Raises ValueError without its scale."""
    match = _DEGREES.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{text!r} is not a temperature; write it like '375 F' or '190 C'")
    number, scale = float(match[1].replace(",", ".")), match[2].upper()
    unit = "degF" if scale == "F" else "degC"
    return float(units().Quantity(number, unit).to("degC").magnitude)


def pounds(mass_kg: float) -> float:
    """Return pounds of a mass in kg."""
    return float(units().Quantity(mass_kg, "kilogram").to("pound").magnitude)
