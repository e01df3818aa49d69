"""Whether more may follow what was heard, and whether it was meant for the program."""

import pytest

from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary.commands import BirdsOn
from assistant.ears.choice import UNCLEAR
from assistant.ears.heard import Heard, Outcome
from assistant.grammar.ending import ending
from assistant.grammar.grammar import Names
from assistant.live.hearing import names_of
from assistant.live.outlook import is_meant, outlook_of
from assistant.live.utterance import Outlook

NAMES = Names(3, ("apricot", "harissa"))


def heard(words: str, outcome: Outcome = "accept", reason: str | None = None) -> Heard:
    return Heard(words, BirdsOn(), 0.9, outcome, reason=reason)


@pytest.mark.parametrize(
    ("words", "outcome", "outlook"),
    [
        ("turnspit birds on", "accept", "open"),  # five minutes ago
        ("turnspit what's next", "accept", "whole"),
        ("turnspit bird two reads one thirty", "accept", "open"),
        ("turnspit how long", "accept", "open"),
        ("turnspit added twelve briquettes", "stress", "open"),
        ("one thirty", "accept", "open"),
        ("turnspit bird two reads one thirty", "refuse", "partial"),
        ("bird two is on", "refuse", "hopeless"),
        ("", "refuse", "hopeless"),
    ],
)
def test_the_outlook_follows_the_grammar(words: str, outcome: Outcome, outlook: Outlook) -> None:
    assert outlook_of(heard(words, outcome), NAMES) == outlook


@pytest.mark.parametrize(
    ("words", "whole", "goes_on"),
    [
        ("", False, True),
        ("bird two reads", False, True),
        ("bird two reads one thirty", True, True),
        ("scratch that", True, False),
        ("pass the salt", False, False),
    ],
)
def test_where_a_sentence_may_end(words: str, whole: bool, goes_on: bool) -> None:
    found = ending(words, NAMES)
    assert (found.is_whole, found.goes_on) == (whole, goes_on)


def test_only_unclear_words_after_the_address_word_were_meant_for_it() -> None:
    assert is_meant(heard("turnspit bird two reads one thirty", "refuse", UNCLEAR))
    assert not is_meant(heard("bird two reads one thirty", "refuse", UNCLEAR))
    assert is_meant(heard("one thirty", "refuse", UNCLEAR), free=True)
    assert not is_meant(heard("that's right", "refuse", "no command"), free=True)
    assert not is_meant(heard("turnspit why", "refuse", "it did not sound like a command"))


def test_tonights_names_come_from_the_cook() -> None:
    cook = Cook(
        expected_birds=2,
        birds=(Bird(1, sauce="plain"), Bird(3, sauce="mango")),
        sauces=(("apricot", "high"),),
    )
    assert names_of(cook) == Names(3, ("apricot", "mango"))
    assert names_of(Cook()) == Names(8)
