"""Typed text to the words the grammar knows: digits, units, times, stray characters."""

import re
import unicodedata

from assistant.grammar.numbers import FRACTIONS, long_form, spell_clock, spell_number

LONGEST = 200  # characters; the longest sentence of the grammar has about 100

_UNITS = {
    "lb": "pounds", "lbs": "pounds", "oz": "ounces", "kg": "kilos", "kgs": "kilos",
    "min": "minutes", "mins": "minutes", "hr": "hours", "hrs": "hours", "h": "hours",
    "f": "fahrenheit", "c": "celsius", "%": "percent", "am": "a m", "pm": "p m",
    "a.m": "a m", "p.m": "p m", "1st": "first", "2nd": "second", "3rd": "third",
    "ok": "okay", "whats": "what's", "hows": "how's", "its": "it's", "thats": "that's",
    "oclock": "o'clock",
}  # fmt: skip
_VULGAR = {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅓": " 1/3", "⅔": " 2/3", "°": " "}
_QUOTES = {0x2018: "'", 0x2019: "'"}  # curly to straight
_SHARES = {"1/2": "half", "1/4": "a quarter", "3/4": "three quarters", "1/3": "a third",
           "2/3": "two thirds"}  # fmt: skip
_DECIMALS = {"1/2": ".5", "1/4": ".25", "3/4": ".75"}

_TOKEN = re.compile(
    r"(?P<clock>\d{1,2}:\d\d)(?!\d)"
    r"|(?P<mixed>\d{1,3} (?:1/2|1/4|3/4))(?![\d/])"
    r"|(?P<share>\d/\d)(?!\d)"
    r"|(?P<place>1st|2nd|3rd)\b"
    r"|(?P<number>-?\d+(?:\.\d+)?)"
    r"|(?P<word>[^\W\d_][\w'.-]*|%)"
)


def is_too_long(text: str) -> bool:
    """Whether no command can be this long; cheap for any length."""
    return len(text) > LONGEST and len(text.strip()) > LONGEST


def cleaned(text: str) -> tuple[str, ...]:
    """Lower-case words; numbers typed in digits become words, except those too
    large or too fine to be said, which stay as they are."""
    return tuple(" ".join(_spelled(_simplified(text))).split())


def _simplified(text: str) -> str:
    """Small letters without accents, straight quotes, no control characters."""
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, plain)
    text = unicodedata.normalize("NFKD", text.translate(_QUOTES))
    kept = (" " if unicodedata.category(sign)[0] in "CZ" else sign for sign in text
            if not unicodedata.combining(sign))  # fmt: skip
    return re.sub(r"\s+", " ", "".join(kept)).strip().lower()


def _spelled(text: str) -> list[str]:
    words: list[str] = []
    for found in _TOKEN.finditer(text):
        token = found.group()
        match found.lastgroup:
            case "clock":
                words.append(_clock(token))
            case "mixed":
                whole, _, part = token.partition(" ")
                words.append(_number(whole + _DECIMALS[part]))
            case "share":
                words.append(_SHARES.get(token, token))
            case "number":
                words.append(_number(token))
            case _:
                plain = token.rstrip(".'-")
                words.append(_UNITS.get(plain, plain))
    return _with_hours(words)


def _clock(token: str) -> str:
    hour, minute = (int(part) for part in token.split(":"))
    if hour > 23 or minute > 59:
        return token
    early = "oh " if token.startswith("0") and hour else ""
    words = spell_clock(hour * 60 + minute)
    return early + (words.replace("o'clock", "hundred") if early else words)


def _number(token: str) -> str:
    if len(token) > 6 or abs(float(token)) >= 1000:
        return token
    return spell_number(float(token)) if "." in token else long_form(int(token))


def _with_hours(words: list[str]) -> list[str]:
    """One of a unit is singular in the grammar ("one hour")."""
    singular = {"hours": "hour"}
    return [
        singular.get(word, word) if at and words[at - 1] == "one" else word
        for at, word in enumerate(words)
    ]


assert set(_SHARES.values()) == set(FRACTIONS.values())
