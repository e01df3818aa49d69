"""Numbers as people say them, among other words."""

import pytest

from assistant.grammar.free.figures import figure_at
from assistant.grammar.numbers import TENS, UNITS

SAID = [
    ("one eighteen", 118),
    ("one one eight", 118),
    ("a hundred and eighteen", 118),
    ("one hundred eighteen", 118),
    ("hundred and nine", 109),
    ("one oh nine", 109),
    ("a buck thirty", 130),
    ("three seventy", 370),
    ("three hundred and seventy", 370),
    ("one thirty three point five", 133.5),
    ("ninety eight point two five", 98.25),
    ("four and a half", 4.5),
    ("four and a quarter", 4.25),
    ("a dozen", 12),
    ("dozen", 12),
    ("another dozen", 12),
    ("half a dozen", 6),
    ("minus four", -4),
    ("twenty one", 21),
    ("seven", 7),
    ("three two degrees", 32),
]


@pytest.mark.parametrize(("words", "number"), SAID)
def test_a_number_is_read_whole(words: str, number: float) -> None:
    tokens = tuple(words.split())
    found = figure_at(tokens, 0)
    assert found is not None
    assert found.value == pytest.approx(number)
    assert found.end == len(tokens)


@pytest.mark.parametrize(
    ("words", "number", "scale", "end"),
    [
        ("sixty celsius there", 60, "C", 2),
        ("sixty degrees c", 60, "C", 3),
        ("one sixty five fahrenheit", 165, "F", 4),
        ("one sixty five degrees in the thigh", 165, None, 4),
    ],
)
def test_a_scale_is_taken_with_its_number(
    words: str, number: float, scale: str | None, end: int
) -> None:
    found = figure_at(tuple(words.split()), 0)
    assert found is not None
    assert (found.value, found.scale, found.end) == (number, scale, end)


@pytest.mark.parametrize(
    "words", ["a", "oh", "bird", "and a half", "minus", "minus bird", "a buck"]
)
def test_what_is_no_number_is_none(words: str) -> None:
    assert figure_at(tuple(words.split()), 0) is None


def test_two_numbers_one_after_the_other_are_two() -> None:
    """ "one eighty one eighteen": 180 and 118, not 181 and 18."""
    words = ("one", "eighty", "one", "eighteen")
    first = figure_at(words, 0)
    assert first is not None
    second = figure_at(words, first.end)
    assert second is not None
    assert (first.value, second.value) == (180, 118)


def spelled(number: int) -> str:
    """Below a hundred: "forty two"."""
    if number < len(UNITS):
        return UNITS[number]
    tens, unit = divmod(number, 10)
    return f"{TENS[tens]} {UNITS[unit]}" if unit else TENS[tens]


@pytest.mark.parametrize("hundreds", [1, 2, 3])
def test_every_number_a_thermometer_shows_is_read_in_both_ways(hundreds: int) -> None:
    for rest in range(10, 100):
        for words in (
            f"{UNITS[hundreds]} {spelled(rest)}",
            f"{UNITS[hundreds]} hundred and {spelled(rest)}",
        ):
            found = figure_at(tuple(words.split()), 0)
            assert found is not None, words
            assert found.value == 100 * hundreds + rest, words
