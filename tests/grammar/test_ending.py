"""Where a sentence may end, and which word may open one."""

import pytest

from assistant.grammar.address import checked_address, without_address
from assistant.grammar.ending import Ending, ending
from assistant.grammar.grammar import Names

NAMES = Names(3, ("apricot",))


@pytest.mark.parametrize(
    ("words", "is_whole", "goes_on"),
    [
        ("lid off", True, False),
        ("bird one", False, True),
        ("bird one reads", False, True),
        ("bird one reads one", False, True),
        ("bird one is on", True, False),
        ("bird one gets apricot", True, False),
        ("added ten", True, True),
        ("grill is three", False, True),
        ("football tonight", False, False),
        ("", False, True),
    ],
)
def test_a_sentence_is_whole_or_goes_on(words: str, is_whole: bool, goes_on: bool) -> None:
    found = ending(words, NAMES)
    assert found.is_whole is is_whole
    if not is_whole:
        assert found.goes_on is goes_on


def test_a_number_may_be_whole_and_still_go_on() -> None:
    """After "one thirty" a "two" may come: cut there, it would be another temperature."""
    assert ending("bird one reads one thirty", NAMES) == Ending(is_whole=True, goes_on=True)


def test_more_words_than_anybody_says_are_no_beginning() -> None:
    assert ending("bird " * 400, NAMES) == Ending(is_whole=False, goes_on=False)


@pytest.mark.parametrize("word", ["turnspit", "juniper", "copper kettle"])
def test_a_word_that_opens_nothing_else_may_open_a_sentence(word: str) -> None:
    assert checked_address(word) == word


@pytest.mark.parametrize(
    ("word", "why"),
    [
        ("Turnspit", "small letters"),
        ("turn-spit", "small letters"),
        (7, "small letters"),
        ("one two three", "small letters"),
        ("hey", "too short"),
        ("thermometer", "opens a command already"),
        ("bottom kettle", "opens a command already"),
    ],
)
def test_another_word_is_refused_with_what_to_write(word: object, why: str) -> None:
    with pytest.raises(ValueError, match=why):
        checked_address(word)


@pytest.mark.parametrize(
    ("words", "rest"),
    [
        ("turnspit, lid off", "lid off"),
        ("Turnspit lid off", "lid off"),
        ("  turnspit   lid off", "lid off"),
        ("lid off", "lid off"),
        ("turnspits lid off", "turnspits lid off"),
        ("lid off turnspit", "lid off turnspit"),
    ],
)
def test_the_opening_word_is_taken_off_only_where_it_opens(words: str, rest: str) -> None:
    assert without_address(words, "turnspit") == rest
