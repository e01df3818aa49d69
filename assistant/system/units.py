"""Weights and temperatures as people type them, to SI; pint does the arithmetic."""

import re
from functools import lru_cache
from typing import Any

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


@lru_cache(maxsize=1)
def units() -> Any:
    """Return the one unit registry (importing pint costs a third of a second)."""
    import pint

    return pint.UnitRegistry()


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
