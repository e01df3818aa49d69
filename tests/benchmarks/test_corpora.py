"""What the hearing corpora promise: seeded, the noises of the place, nothing said twice."""

import numpy as np
import pytest

from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT, TEST
from tests.benchmarks.corpus_bystanders import CHILDREN, GUESTS
from tests.benchmarks.corpus_commands import commands, minimal_pairs
from tests.benchmarks.corpus_noise import NOISES, noise
from tests.benchmarks.corpus_talk import NEAR, TALK

VOICES = ("slt", "rms", "awb", "kal16", "joe", "joe-slow", "joe-fast")
COMPUTED = tuple(set(NOISES) - {"kitchen", "babble", "talker", "children"})
"""Noises that need neither a voice nor a recording."""


@pytest.mark.parametrize("name", COMPUTED)
def test_noise_is_seeded_and_of_unit_power(name: str) -> None:
    """The same seed gives the same noise, another seed another; its mean power is one."""
    first, again, other = (noise(name, 24_000, seed) for seed in (1, 1, 2))
    assert np.array_equal(first, again)
    assert not np.array_equal(first, other)
    assert np.mean(first**2) == pytest.approx(1.0)
    assert len(first) == 24_000


@pytest.mark.parametrize("seed", [DEVELOPMENT, TEST])
def test_no_sentence_is_said_twice_and_a_corpus_only_grows(seed: int) -> None:
    """A hundred utterances are a hundred sentences; a longer corpus begins with the shorter."""
    for make in (commands, minimal_pairs):
        whole = make(100, VOICES, seed)
        assert len({spoken.words for spoken in whole}) == 100
        assert make(30, VOICES, seed) == whole[:30]


def test_every_voice_says_readings_and_other_commands() -> None:
    """No voice is tied to one kind of sentence."""
    kinds: dict[str, set[str]] = {}
    for spoken in commands(100, VOICES[:5], TEST):
        kinds.setdefault(spoken.voice, set()).add(spoken.command.NAME)
    assert all("bird_reading" in said and len(said) > 5 for said in kinds.values())


def test_what_is_tested_is_said_in_no_noise() -> None:
    """Babble, children and the talker behind say nothing that is tested as speech."""
    assert not {*GUESTS, *CHILDREN} & corpora.spoken_sentences()


def test_what_may_not_be_trained_on_is_listed() -> None:
    """The list holds commands, pairs and talk of both seeds."""
    listed = corpora.spoken_sentences()
    for seed in (DEVELOPMENT, TEST):
        assert {spoken.words for spoken in commands(50, VOICES, seed)} <= listed
        assert {spoken.words for spoken in minimal_pairs(50, VOICES, seed)} <= listed
    assert {*TALK, *NEAR} <= listed
