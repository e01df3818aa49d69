"""Numbers as people say them, found among words: "one eighteen", "a hundred and nine",
"one one eight", "one thirty three point five", "a dozen"."""

from dataclasses import dataclass

from assistant.cook.vocabulary.commands import Scale
from assistant.grammar.numbers import TENS, UNITS

_UNIT = {word: n for n, word in enumerate(UNITS[:10])} | {"oh": 0, "o": 0}
_TEEN = {word: n + 10 for n, word in enumerate(UNITS[10:])}
_TENS = {word: 10 * n for n, word in enumerate(TENS) if n >= 2}
SCALES: dict[str, Scale] = {
    "celsius": "C", "centigrade": "C", "fahrenheit": "F", "c": "C", "f": "F",
}  # fmt: skip
_DEGREES = {("degrees",), ("degree",), ("deg",)}
_PARTS = {"half": 0.5, "quarter": 0.25, "third": 1 / 3}


@dataclass(frozen=True, slots=True)
class Figure:
    """A number: where it ends, its value, and the scale where one was said."""

    end: int
    value: float
    scale: Scale | None = None


def figure_at(words: tuple[str, ...], at: int) -> Figure | None:
    """The longest number beginning at this word, with its fraction and its scale."""
    found = _whole(words, at)
    if found is None:
        return None
    end, value = found
    end, value = _fraction(words, end, value)
    after = end + (words[end : end + 1] in _DEGREES)
    scale = SCALES.get(words[after]) if after < len(words) else None
    return Figure(after + 1 if scale else after, value, scale)


def _whole(words: tuple[str, ...], at: int) -> tuple[int, float] | None:
    word = words[at]
    follows = words[at + 1] if at + 1 < len(words) else ""
    if word in {"a", "another", "one"} and follows == "dozen":
        return at + 2, 12.0
    if word == "dozen":
        return at + 1, 12.0
    if word == "half" and follows == "dozen":
        return at + 2, 6.0
    if word == "half" and words[at + 1 : at + 3] == ("a", "dozen"):
        return at + 3, 6.0
    if word == "minus":
        below = _whole(words, at + 1) if follows else None
        return (below[0], -below[1]) if below else None
    if follows == "hundred" and (word == "a" or 1 <= _UNIT.get(word, 0) <= 9):
        return _after_hundred(words, at + 2, 100.0 * _UNIT.get(word, 1))
    if word == "a" and follows == "buck":  # "a buck thirty"
        tail = _tail(words, at + 2)
        return (tail[0], 100.0 + tail[1]) if tail else None
    if word == "hundred":
        return _after_hundred(words, at + 1, 100.0)
    if word == "a":
        return None
    if word in {"oh", "o"}:
        return None
    if 2 <= _UNIT.get(word, 0) <= 9 and follows in _UNIT and words[at + 2 : at + 3] in _DEGREES:
        return at + 2, 10.0 * _UNIT[word] + _UNIT[follows]  # "three two degrees"
    if 1 <= _UNIT.get(word, 0) <= 9:
        tail = _tail(words, at + 1)
        if tail is not None:
            return tail[0], 100.0 * _UNIT[word] + tail[1]
    return _below_hundred(words, at)


def _after_hundred(words: tuple[str, ...], at: int, hundreds: float) -> tuple[int, float]:
    start = at + (words[at : at + 1] == ("and",))
    rest = _below_hundred(words, start) if start < len(words) else None
    return (rest[0], hundreds + rest[1]) if rest else (at, hundreds)


def _tail(words: tuple[str, ...], at: int) -> tuple[int, float] | None:
    """What makes "one" a hundred: "eighteen", "thirty six", "oh nine", "one eight"."""
    if at >= len(words):
        return None
    if words[at] in _TEEN or words[at] in _TENS:
        return _below_hundred(words, at)
    if words[at] in _UNIT and at + 1 < len(words) and words[at + 1] in _UNIT:
        return at + 2, 10.0 * _UNIT[words[at]] + _UNIT[words[at + 1]]
    return None


def _below_hundred(words: tuple[str, ...], at: int) -> tuple[int, float] | None:
    word = words[at]
    if word in _TENS:
        unit = _UNIT.get(words[at + 1], 0) if at + 1 < len(words) else 0
        if unit == 1 and _tail(words, at + 2) is not None and at + 2 < len(words):
            unit = 0  # "one eighty one eighteen" is two numbers
            if at and words[at - 1] == "not" and _is_nearer(words, at):
                unit = 1
        if (
            unit
            and words[at + 2 : at + 3] == ("is",)
            and _begins(words, at + 3 + (words[at + 3 : at + 4] == ("on",)))
        ):
            unit = 0  # "one twenty two is one thirty": bird two
        return (at + 2, float(_TENS[word] + unit)) if unit else (at + 1, float(_TENS[word]))
    if word in _TEEN:
        return at + 1, float(_TEEN[word])
    if word in _UNIT and word not in {"oh", "o"}:
        return at + 1, float(_UNIT[word])
    return None


def _is_nearer(words: tuple[str, ...], at: int) -> bool:
    """Of "not sixty one fifty one": a number is mended by one near to it."""
    ten = _TENS[words[at]]
    whole, tail = _below_hundred(words, at + 2), _tail(words, at + 2)
    assert tail is not None
    return whole is not None and abs(ten + 1 - whole[1]) < abs(ten - 100 - tail[1])


def _begins(words: tuple[str, ...], at: int) -> bool:
    """Whether a number begins here."""
    return at < len(words) and (words[at] == "at" or _whole(words, at) is not None)


def _fraction(words: tuple[str, ...], end: int, value: float) -> tuple[int, float]:
    if words[end : end + 1] == ("point",) and end + 1 < len(words) and words[end + 1] in _UNIT:
        digits = ""
        end += 1
        while end < len(words) and words[end] in _UNIT and len(digits) < 2:
            digits += str(_UNIT[words[end]])
            end += 1
        return end, round(value + float(f"0.{digits}"), 4)
    after = words[end : end + 3]
    if len(after) == 3 and after[:2] == ("and", "a") and after[2] in _PARTS:
        return end + 3, value + _PARTS[after[2]]
    if after[:2] == ("and", "three") and after[2:] in {("quarters",), ("quarter",)}:
        return end + 3, value + 0.75
    if after[:3] == ("and", "one", "half"):
        return end + 3, value + 0.5
    return end, value
