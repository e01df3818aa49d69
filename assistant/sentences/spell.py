"""Printed text to spoken words: "Bird 2, 130 F at 6:30." and nothing left in digits."""

import re
from dataclasses import dataclass

from assistant.grammar.numbers import (
    FRACTIONS,
    digit_by_digit,
    spell_clock,
    spell_number,
    spell_temperature,
)

_SHARES = {"1/4": 1 / 4, "1/3": 1 / 3, "1/2": 1 / 2, "2/3": 2 / 3, "3/4": 3 / 4}
_UNITS = {
    "F": "fahrenheit", "C": "celsius", "lb": "pounds", "oz": "ounces", "kg": "kilos",
    "g": "grams", "cm": "centimetres", "in": "inches", "min": "minutes", "h": "hours",
    "s": "seconds", "%": "percent", "am": "a m", "pm": "p m",
}  # fmt: skip
_ONE = {"pounds": "pound", "ounces": "ounce", "kilos": "kilo", "minutes": "minute",
        "hours": "hour", "seconds": "second", "grams": "gram", "inches": "inch"}  # fmt: skip
_TOKEN = re.compile(
    r"(?P<clock>\b\d{1,2}:\d\d\b)"
    r"|(?P<spelled>\b\d(?:·\d)+(?:\.\d+)?)"
    r"|(?P<span>\b\d+(?:\.\d+)?-(?=\d))"
    r"|(?P<share>\b\d/\d\b)"
    r"|(?P<number>(?<![\w.])-?\d+(?:\.\d+)?)"
    r"(?:\s?(?P<unit>F|C|lb|oz|kg|g|cm|in|min|h|s|am|pm|%)(?![\w]))?"
)
_SIGNS = str.maketrans({"±": " give or take ", "+": " plus ", "&": " and ", "°": " "})


@dataclass(frozen=True, slots=True)
class Sentence:
    """`text` is printed (digits), `spoken` is said (words)."""

    text: str
    spoken: str


def sentence(text: str) -> Sentence:
    """A printed sentence with what is said for it."""
    return Sentence(text, spell(text))


def spell(text: str) -> str:
    """What is said for a printed text.

    Numbers from 101 are said as temperatures are ("one thirty"), times of day as
    on a clock, digits joined by middle dots one by one ("1·3·0"), units in full.
    """
    spoken = _TOKEN.sub(_spoken, text).translate(_SIGNS)
    return re.sub(r"\s+", " ", spoken).strip()


def dotted(number: float) -> str:
    """A number written so that `spell` says it digit by digit: 130 is "1·3·0"."""
    whole, point, rest = f"{number:g}".partition(".")
    return "·".join(whole) + point + rest


def _spoken(found: re.Match[str]) -> str:
    token = found.group()
    match found.lastgroup:
        case "clock":
            hour, minute = (int(part) for part in token.split(":"))
            return spell_clock(60 * hour + minute)
        case "spelled":
            return digit_by_digit(float(token.replace("·", "")))
        case "span":
            return f"{_plain(float(token[:-1]))} to "
        case "share":
            return FRACTIONS[_SHARES[token]] if token in _SHARES else token.replace("/", " of ")
        case _:
            return _with_unit(float(found["number"]), found["unit"])


def _with_unit(number: float, unit: str | None) -> str:
    if unit is None:
        return _plain(number)
    name = _UNITS[unit]
    if unit in {"F", "C"}:
        return f"{spell_temperature(number)} {name}"
    return f"{spell_number(number)} {_ONE.get(name, name) if number == 1 else name}"


def _plain(number: float) -> str:
    return spell_temperature(number) if 100 < abs(number) < 1000 else spell_number(number)
