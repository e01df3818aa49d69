"""Spoken numbers: every temperature in every form, and the radio numerals."""

import csv
from pathlib import Path

import pytest

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.grammar import Names
from assistant.grammar.numbers import (
    UNITS,
    below_hundred,
    digit_by_digit,
    digits,
    long_form,
    short_form,
    spell_clock,
    spell_number,
    spell_temperature,
)
from assistant.grammar.parse import all_readings, parse

RADIO = Path(__file__).parents[1] / "references" / "radiotelephony_numbers.csv"
# ICAO's respellings that are words of their own; the others are the plain word, stressed.
RADIO_WORDS = {"TREE": "tree", "FIFE": "fife", "NIN-er": "niner"}
ONE = Names(1)


def forms(number: int) -> set[str]:
    """The ways people say a whole temperature."""
    hundreds, rest = divmod(number, 100)
    found = {long_form(number), short_form(number), digits(number)}
    found.add(digits(number).replace("zero", "oh") if number else "zero")
    for plain, radio in (("three", "tree"), ("five", "fife"), ("nine", "niner")):
        found.add(digits(number).replace(plain, radio))
    if hundreds and rest:
        found.add(f"{UNITS[hundreds]} hundred and {below_hundred(rest)}")
    if hundreds == 1:
        found.add("a hundred" + (f" and {below_hundred(rest)}" if rest else ""))
    return found


def said(words: str, scale: cmd.Scale) -> set[float]:
    return {
        command.said.number
        for command in all_readings(words, ONE, scale=scale)
        if isinstance(command, cmd.BirdReading | cmd.GrillReading | cmd.Number)
    }


@pytest.mark.parametrize(("scale", "low", "high"), [("F", 32, 600), ("C", 0, 320)])
def test_every_temperature_is_read_in_every_spoken_form(
    scale: cmd.Scale, low: int, high: int
) -> None:
    for number in range(low, high + 1):
        for words in forms(number):
            assert said(f"grill is {words}", scale) == {number}, words
            assert said(f"bird one reads {words} degrees", scale) == {number}, words
        if number < high:
            words = short_form(number)
            assert said(f"bird one reads {words} and a half", scale) == {number + 0.5}
            assert said(f"{words} point seven", scale) == {number + 0.7}


@pytest.mark.parametrize(
    ("words", "number"),
    [
        ("one thirty", 130.0),
        ("a hundred and thirty", 130.0),
        ("one three zero", 130.0),
        ("one oh five", 105.0),
        ("two hundred", 200.0),
        ("one eighteen and a half", 118.5),
    ],
)
def test_the_ways_people_say_temperatures(words: str, number: float) -> None:
    assert said(f"bird one reads {words}", "F") == {number}


def test_radio_numerals_are_read_digit_by_digit() -> None:
    """ICAO Annex 10 numerals, as the reference table quotes them (mark a2)."""
    lines = [line for line in RADIO.read_text().splitlines() if not line.startswith("#")]
    rows = [row for row in csv.DictReader(lines) if row["numeral"].isdigit()]
    assert len(rows) == 10
    for row in rows:
        digit = int(row["numeral"])
        word = RADIO_WORDS.get(row["pronunciation"], UNITS[digit])
        assert row["mark"] == "a2"
        assert said(f"one {word} {word}", "F") == {100 + 11 * digit}


def test_spelling_is_short_and_exact() -> None:
    assert spell_temperature(118.5) == "one eighteen and a half"
    assert spell_temperature(105) == "one oh five"
    assert spell_temperature(200) == "two hundred"
    assert spell_temperature(98.6) == "ninety eight point six"
    assert spell_temperature(-2) == "minus two"
    assert digit_by_digit(130) == "one three zero"
    assert digit_by_digit(118.5) == "one one eight and a half"
    assert spell_number(2.4) == "two point four"
    assert spell_number(2.25) == "two point two five"
    assert spell_number(1250) == "one thousand two hundred fifty"
    assert spell_clock(390) == "six thirty"
    assert spell_clock(18 * 60 + 5) == "eighteen oh five"
    assert spell_clock(0) == "zero hundred"


@pytest.mark.parametrize("spell", [spell_temperature, digit_by_digit])
def test_spelled_temperatures_are_read_back_to_the_hundredth(spell: object) -> None:
    assert callable(spell)
    for hundredths in range(3200, 60000, 53):
        number = hundredths / 100
        command = parse(f"grill is {spell(number)}", ONE)
        assert isinstance(command, cmd.GrillReading)
        assert command.temperature == number
