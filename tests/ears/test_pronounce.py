"""Sauce names the dictionary lacks get phones, or are named."""

import shutil

import pytest

from assistant.ears.sphinx.decoder import Sphinx, UnknownWordsError
from assistant.ears.sphinx.pronounce import pronunciation, to_arpabet
from assistant.grammar.network import read_network

needs_espeak = pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="needs espeak-ng")


@needs_espeak
@pytest.mark.parametrize(
    ("word", "phones"),
    # Against the dictionary's own entries (CMUdict), stress left out.
    [("mango", "M AE NG G OW"), ("chipotle", "CH IH P OW T L EY"), ("jam", "JH AE M")],
)
def test_phones_are_those_of_the_dictionary(word: str, phones: str) -> None:
    assert pronunciation(word) == phones


def test_a_sound_english_lacks_gives_no_guess() -> None:
    assert to_arpabet("ʘa") is None
    assert to_arpabet("") is None


@pytest.mark.parametrize("word", ["b2", "?", "a b"])
def test_what_is_no_word_gets_no_phones(word: str) -> None:
    assert pronunciation(word) is None


def test_a_word_nobody_can_pronounce_is_named(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("assistant.ears.sphinx.decoder.pronunciation", lambda _word: None)
    network = read_network("#JSGF V1.0; grammar g; public <s> = bird gets zhoug;")
    with pytest.raises(UnknownWordsError, match="zhoug"):
        Sphinx(network)
