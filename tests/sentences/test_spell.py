"""Printed text to speech: no digit is left, and numbers are said as cooks say them."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from assistant.sentences.spell import dotted, sentence, spell


@pytest.mark.parametrize(
    ("text", "spoken"),
    [
        ("Bird 2, 130.", "Bird two, one thirty."),
        ("Bird 1, 118.5.", "Bird one, one eighteen and a half."),
        ("Bird 1, 1·3·0.", "Bird one, one three zero."),
        ("Bird 1, 1·1·8.5.", "Bird one, one one eight and a half."),
        ("Bird 1, 5 lb 8 oz.", "Bird one, five pounds eight ounces."),
        ("1 lb", "one pound"),
        ("2.4 kg", "two point four kilos"),
        ("Dinner at 6:30.", "Dinner at six thirty."),
        ("at 7:00, or 18:05", "at seven o'clock, or eighteen oh five"),
        ("165 F", "one sixty five fahrenheit"),
        ("-2 C", "minus two celsius"),
        ("10-15 minutes", "ten to fifteen minutes"),
        ("bottom vent 2/3", "bottom vent two thirds"),
        ("40%", "forty percent"),
        ("about 7:10, ±8 min", "about seven ten, give or take eight minutes"),
        ("1250 g", "one thousand two hundred fifty grams"),
    ],
)
def test_printed_text_is_said_in_words(text: str, spoken: str) -> None:
    assert spell(text) == spoken
    assert sentence(text).text == text


@given(st.lists(st.sampled_from("0123456789 .:/-·%FC lbkgozmin,ab"), max_size=40).map("".join))
def test_no_digit_of_plain_numbers_is_left(text: str) -> None:
    """Whatever stands in the text; letters glued to digits are names, not numbers."""
    parts = [part for part in text.split() if part.replace(".", "", 1).isdigit()]
    assert not any(letter.isdigit() for part in parts for letter in spell(part.strip(".")))


@pytest.mark.parametrize("number", [130.0, 98.0, 5.0, 118.5])
def test_dotted_numbers_are_said_digit_by_digit(number: float) -> None:
    words = spell(dotted(number)).removesuffix(" and a half").split()
    assert len(words) == len(str(int(number)))
