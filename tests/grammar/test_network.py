"""Grammars as networks: the same language as the grammar, nothing else."""

import random
import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.grammar.grammar import Names, fitted, random_sentence
from assistant.grammar.network import GrammarError, network_of, read_network

TONIGHT = Names(2, ("apricot", "harissa"))
COOK = network_of(fitted(TONIGHT, lean=True))


def test_every_construct_is_read() -> None:
    network = read_network(
        """#JSGF V1.0; grammar g;
        public <s> = (hot | very+ hot) [oven] <end>*; <end> = now | "right away" {tag};"""
    )
    for said in ("hot", "very very hot oven", "hot now now", "hot oven right away"):
        assert network.accepts(said), said
    for other in ("", "very", "hot right", "oven hot", "hot oven oven"):
        assert not network.accepts(other), other


@settings(deadline=None)
@given(st.integers(0, 10_000))
def test_sentences_of_the_grammar_are_accepted(seed: int) -> None:
    assert COOK.accepts(random_sentence(random.Random(seed), TONIGHT, lean=True))


@settings(deadline=None)
@given(st.integers(0, 10_000))
def test_a_changed_word_order_is_only_accepted_when_the_grammar_has_it(seed: int) -> None:
    said = COOK.random_sentence(random.Random(seed))
    assert COOK.accepts(said)
    assert not COOK.accepts(f"{said} nonsense")


def test_the_network_is_small_because_equal_futures_are_one_state() -> None:
    text = "#JSGF V1.0; grammar g; public <s> = a <n> | b <n> | c <n>; <n> = one | two | three;"
    network = read_network(text)
    assert len(network.arcs) == 3
    assert network.words() == {"a", "b", "c", "one", "two", "three"}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("#JSGF V1.0; grammar g; public <s> = a <t>;", "t"),
        ("#JSGF V1.0; grammar g; public <s> = a <s>;", "calls itself"),
        ("#JSGF V1.0; grammar g; public <s> = (a;", "cannot be read"),
        ("not a grammar", "cannot be read"),
    ],
)
def test_a_grammar_that_cannot_be_used_says_why(text: str, expected: str) -> None:
    with pytest.raises(GrammarError, match=expected):
        read_network(text)


HEAD = "#JSGF V1.0; grammar g; public <s> = "
DOUBLED = " ".join(f"<r{n}> = <r{n - 1}> <r{n - 1}>;" for n in range(1, 31))


@pytest.mark.parametrize(
    "bomb",
    [
        f"{HEAD}<r30>; <r0> = up; {DOUBLED}",
        f"{HEAD}(up | down)* up {'(up | down) ' * 30};",
        f"{HEAD}{'[up] [down] ' * 2000};",
    ],
    ids=["doubled thirty times", "the thirtieth last word", "four thousand maybes"],
)  # fmt: skip
def test_little_text_that_promises_a_great_deal_is_refused_in_a_moment(bomb: str) -> None:
    """Each of these took gigabytes, or had no end."""
    started = time.process_time()
    with pytest.raises(GrammarError, match="too large to listen with"):
        read_network(bomb)
    assert time.process_time() - started < 20.0
