"""The phrase card is made from the grammar, so it cannot drift from it."""

import re
from itertools import product

import pytest

from assistant.grammar.grammar import Names, command_names
from assistant.grammar.parse import parse
from assistant.sentences import card
from assistant.sentences.card import PURPOSES, phrase_card

NAMES = Names(sauces=("harissa",))


def phrases_of(text: str) -> list[str]:
    return [
        phrase.strip()
        for line in text.splitlines()
        if line.startswith("  ")
        for phrase in re.split(r" / |;", line)
        if phrase.strip()
    ]


def spelled_out(phrase: str) -> list[str]:
    """The phrase with each bracket left out or said."""
    parts = re.split(r"\[([^]]*)\]", phrase)
    choices = [("", part) if at % 2 else (part,) for at, part in enumerate(parts)]
    return [" ".join(" ".join(some).split()) for some in product(*choices)]


def test_everything_on_the_card_is_understood() -> None:
    heard = set()
    for phrase in phrases_of(phrase_card()):
        for words in spelled_out(phrase):
            heard.add(parse(words, NAMES).NAME)
    assert heard == set(command_names())


def test_the_card_fits_one_page() -> None:
    lines = phrase_card().splitlines()
    assert len(lines) <= 60
    assert max(map(len, lines)) <= 80


def test_the_card_names_the_address_word_in_use() -> None:
    assert '"pepper pot"' in phrase_card("pepper pot")


def test_a_command_missing_from_the_card_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(card, "PURPOSES", PURPOSES[1:])
    with pytest.raises(ValueError, match="readiness_start"):
        phrase_card()
