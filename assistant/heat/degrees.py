"""Degrees Fahrenheit and Celsius: the one pair of conversions between floats."""


def celsius(temperature_f: float) -> float:
    """Degrees C of a temperature in F."""
    return (temperature_f - 32.0) / 1.8


def fahrenheit(temperature_c: float) -> float:
    """Degrees F of a temperature in C."""
    return temperature_c * 1.8 + 32.0


def in_scale(temperature_f: float, scale: str) -> float:
    """A temperature in F as a number of `scale`, "F" or "C"."""
    return celsius(temperature_f) if scale == "C" else temperature_f


def from_scale(number: float, scale: str) -> float:
    """Degrees F of a number read in `scale`, "F" or "C"."""
    return fahrenheit(number) if scale == "C" else number
