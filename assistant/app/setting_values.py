"""Values of `cook.toml` with their limits: each raises ValueError that tells what is allowed."""

from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from assistant.heat.degrees import fahrenheit
from assistant.system.units import parse_temperature_c


def one_of(value: object, allowed: tuple[str, ...]) -> str:
    """One of the words that are `allowed`."""
    if not isinstance(value, str) or value not in allowed:
        raise ValueError(f"{value!r} is not allowed; one of {', '.join(allowed)}")
    return value


def number(value: object, low: float, high: float) -> float:
    """A number within its limits."""
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise ValueError(f"{value!r} is not allowed; a number from {low:g} to {high:g}")
    return float(value)


def whole(value: object, low: int, high: int) -> int:
    """A whole number within its limits."""
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise ValueError(f"{value!r} is not allowed; a whole number from {low} to {high}")
    return value


def degrees_f(value: object, low_f: float, high_f: float) -> float:
    """A temperature written with its scale ("165 F"), within limits told in F."""
    allowed = f"a temperature from {low_f:g} to {high_f:g} F, like '{high_f:g} F' or in C"
    if not isinstance(value, str):
        raise ValueError(f"{value!r} is not allowed; {allowed}")
    temperature_f = round(fahrenheit(parse_temperature_c(value)), 6)
    if not low_f <= temperature_f <= high_f:
        raise ValueError(f"{value!r} is not allowed; {allowed}")
    return temperature_f


def zone(value: object) -> str:
    """An IANA time zone."""
    if not isinstance(value, str):
        raise ValueError(f"{value!r} is not allowed; a zone like 'America/Chicago'")
    try:
        ZoneInfo(value)
    except (ValueError, OSError, ZoneInfoNotFoundError) as error:
        raise ValueError(f"{value!r} is not a zone; one like 'America/Chicago'") from error
    return value
