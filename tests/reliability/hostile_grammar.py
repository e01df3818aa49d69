"""Hostile grammars: refused in one line, or read within bounds of time and memory; and what
is read accepts just the sentences that a plain regular expression of it does."""

import re
import resource
import signal
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from hypothesis import strategies as st

from assistant.grammar.network import GrammarError, Network, read_network
from tests.reliability.hostile_inputs import Target, flips, is_one_line, text

LONGEST_S = 10.0  # of arithmetic, on a small board; a grammar of our own takes a tenth of one
MOST_KB = 300 * 1024  # more memory than before


def check_grammar(data: str) -> Network | None:
    """The network, or None where it is refused."""
    try:
        with _bounded():
            return read_network(data)
    except GrammarError as error:
        is_one_line(str(error))
        return None


@contextmanager
def _bounded() -> Iterator[None]:
    """Raises AssertionError where what is within takes too long, or too much memory."""

    def stop(*_: object) -> None:
        raise AssertionError(f"more than {LONGEST_S:g} s")

    if sys.platform == "win32":
        yield
        return
    before_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    usual = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, LONGEST_S)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
        signal.signal(signal.SIGVTALRM, usual)
        grown_kb = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before_kb
        assert grown_kb < MOST_KB, f"{grown_kb >> 10} MB more"


# ---- trees, written as a grammar and as a regular expression -----------------------------

WORDS = ("up", "down", "two", "half")
Written = tuple[str, str]  # JSGF, regular expression over words that each end in a space

_leaf: st.SearchStrategy[Written] = st.sampled_from(
    [(word, f"(?:{word} )") for word in WORDS] + [("<NULL>", ""), ("two {tag}", "(?:two )")]
)


def _grown(inner: st.SearchStrategy[Written]) -> st.SearchStrategy[Written]:
    several = st.lists(inner, min_size=1, max_size=3)
    return st.one_of(
        several.map(lambda of: (" ".join(f"({one})" for one, _ in of), "".join(p for _, p in of))),
        several.map(
            lambda of: (f"({' | '.join(g for g, _ in of)})", f"(?:{'|'.join(p for _, p in of)})")
        ),
        inner.map(lambda of: (f"[{of[0]}]", f"(?:{of[1]})?")),
        inner.map(lambda of: (f"({of[0]})*", f"(?:{of[1]})*")),
        inner.map(lambda of: (f"({of[0]})+", f"(?:{of[1]})+")),
    )


_tree = st.recursive(_leaf, _grown, max_leaves=8)
_sentences = st.lists(st.lists(st.sampled_from(WORDS), max_size=5), min_size=8, max_size=8)


def check_meaning(made: tuple[Written, Written, list[list[str]]]) -> None:
    """A grammar of two rules, one calling the other twice."""
    (one, one_re), (two, two_re), sentences = made
    grammar = f"#JSGF V1.0; grammar g; public <a> = up {one} <b> | <b>; <b> = {two};"
    network = check_grammar(grammar)
    assert network is not None, grammar
    wanted = re.compile(f"(?:up ){one_re}(?:{two_re})|(?:{two_re})")
    for words in sentences:
        said = "".join(f"{word} " for word in words)
        assert network.accepts(said) is (wanted.fullmatch(said) is not None), (grammar, said)


# ---- bombs: little text that promises a great deal ---------------------------------------

_size = st.integers(1, 40) | st.sampled_from((200, 2000))
HEAD = "#JSGF V1.0; grammar g; public <a> = "


def _doubled(size: int) -> str:
    rules = "".join(f"<r{n}> = <r{n - 1}> <r{n - 1}>; " for n in range(1, size))
    return f"{HEAD}<r{size - 1}>; {rules} <r0> = up;"


def _nth_last(size: int) -> str:
    """Determinised, two to the power of `size` states."""
    return f"{HEAD}(up | down)* up {'(up | down) ' * size};"


def _maybes(size: int) -> str:
    return f"{HEAD}{'[up] [down] ' * size};"


def _starred(size: int) -> str:
    return f"{HEAD}{'(' * size}up{')*' * size};"


def _loops(size: int) -> str:
    rules = "".join(f"<r{n}> = up <r{(n + 1) % size}> | <NULL>*; " for n in range(size))
    return f"{HEAD}<r0>; {rules}"


def _wide(size: int) -> str:
    return f"{HEAD}{' | '.join(f'w{n} w{n + 1}' for n in range(size * 10))};"


_SHAPES: dict[str, Any] = {
    "doubled": _doubled, "nth last": _nth_last, "maybes": _maybes, "starred": _starred,
    "loops": _loops, "wide": _wide,
}  # fmt: skip


def check_bomb(made: tuple[str, int]) -> None:
    """A shape and its size."""
    check_grammar(_SHAPES[made[0]](made[1]))


_GRAMMAR = b"""#JSGF V1.0;
grammar g;
public <a> = <b> [ up | down ] /0.5/ two {t} | x*;
<b> = y+;
"""
_jsgf = text | st.lists(
    st.sampled_from(["#JSGF V1.0;", "grammar g;", "public <a> =", "<a>", "<b>", "(", ")", "[", "]",
                     "|", "*", "+", "/9/", "{t}", ";", "word", "//", "/*"]) | text, max_size=20
).map(" ".join)  # fmt: skip

TARGETS = (
    Target("grammars", _jsgf, check_grammar),  # type: ignore[arg-type]
    Target("meant grammars", st.tuples(_tree, _tree, _sentences), check_meaning),
    Target("grammar bombs", st.tuples(st.sampled_from(sorted(_SHAPES)), _size), check_bomb),
    flips("grammar files", lambda: _GRAMMAR, lambda data: check_grammar(data.decode("latin-1"))),  # type: ignore[arg-type]
)
