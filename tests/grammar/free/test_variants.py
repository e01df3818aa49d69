"""The card's sentences said a little otherwise mean what they meant."""

import random

from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.grammar.grammar import random_sentence
from tests.benchmarks.variants import CHANGES, COMMANDS, TONIGHT, verdict

AROUND = ("an opening", "a closing", "a log word", "a vocative", "an ordinal", "a contraction")


@settings(max_examples=150, deadline=None)
@given(st.randoms(use_true_random=False), st.sampled_from(COMMANDS), st.sampled_from(AROUND))
def test_what_people_say_around_a_sentence_changes_nothing(
    rng: random.Random, command: str, change: str
) -> None:
    words = random_sentence(rng, TONIGHT, command=command, lean=True)
    assert verdict(words, CHANGES[change](words, rng)) == "same", words


@settings(max_examples=100, deadline=None)
@given(
    st.randoms(use_true_random=False), st.sampled_from(COMMANDS), st.sampled_from(sorted(CHANGES))
)
def test_other_words_for_a_sentence_are_never_taken_for_another(
    rng: random.Random, command: str, change: str
) -> None:
    words = random_sentence(rng, TONIGHT, command=command, lean=True)
    assert verdict(words, CHANGES[change](words, rng)) != "other", words
