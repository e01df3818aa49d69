"""What the hearing corpora promise: seeded, the noises of the place, nothing said twice."""

from itertools import islice

import numpy as np
import pytest

from assistant.grammar.grammar import ADDRESS
from assistant.grammar.parse import NotUnderstood, parse
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT, TEST
from tests.benchmarks.corpus_bystanders import CHILDREN, GUESTS
from tests.benchmarks.corpus_chatter import chatter
from tests.benchmarks.corpus_commands import TONIGHT, commands, minimal_pairs
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


def test_invented_talk_is_new_in_every_sentence_and_means_no_command() -> None:
    """Thousands of different sentences; none is a command or opens with the address word."""
    said = list(islice(chatter(TEST), 4000))
    assert len(set(said)) == 4000
    assert not any(words.startswith(ADDRESS) for words in said)
    assert 40 < sum(ADDRESS in words.split() for words in said) < 120
    for words in said:
        with pytest.raises(NotUnderstood):
            parse(words, TONIGHT)


def test_talk_of_other_seeds_is_built_from_other_templates() -> None:
    """Nothing a listener may have been fitted on is said in the talk it is tested with."""
    fitted_on = {words for seed in (1, DEVELOPMENT) for words in islice(chatter(seed), 3000)}
    assert not fitted_on & set(islice(chatter(TEST), 3000))
