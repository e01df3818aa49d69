"""What hostile input is made of: nasty text, and good files with something changed."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from hypothesis import strategies as st

from tests.reliability.kitchen import QUESTIONS, SMALL_TALK

NASTY = (
    "\x00", "\x1b[2J", "\x1b]0;x\x07", "\u202e", "\u2066", "\ud800", "\ufeff", "\U0001f525",
    "%s%n", "{0.__class__}", "$(reboot)", "`id`", "../../etc/passwd", "'; DROP TABLE cooks;--",
    "\u2028", "\x85", "\r", "\u0131", "\ufb00", "\u0663", "1e999", "-0", "9" * 400,
)  # fmt: skip

COMMON = list(QUESTIONS + SMALL_TALK)
text = st.text(max_size=60) | st.lists(
    st.sampled_from(NASTY) | st.text(max_size=8) | st.sampled_from(COMMON),
    max_size=5,
).map(" ".join)


@dataclass(frozen=True)
class Target:
    """A way in. `check` raises where the input is not taken as it must be."""

    name: str
    inputs: st.SearchStrategy[Any]
    check: Callable[[Any], None]


@dataclass(frozen=True)
class Flipped:
    """A good file with some bytes changed, cut somewhere, or with more behind it."""

    changes: tuple[tuple[int, int], ...]
    cut: int
    more: bytes

    def of(self, whole: bytes) -> bytes:
        """The file so changed."""
        content = bytearray(whole)
        for place, value in self.changes:
            content[place % len(whole)] = value
        return bytes(content[: self.cut]) + self.more


_changes = st.lists(st.tuples(st.integers(0, 2**16), st.integers(0, 255)), max_size=6).map(tuple)
_flipped = st.builds(
    Flipped, _changes, st.just(2**20) | st.integers(0, 2**15), st.just(b"") | st.binary(max_size=9)
)


def flips(name: str, make: Callable[[], bytes], check: Callable[[bytes], None]) -> Target:
    """A target that is attacked with a good file, changed, and with no file at all."""

    def attempt(made: Flipped | bytes) -> None:
        check(made.of(make()) if isinstance(made, Flipped) else made)

    return Target(name, _flipped | st.binary(max_size=200), attempt)


def is_one_line(message: str) -> None:
    """A refusal is a line that a terminal can show."""
    assert message.isprintable(), ascii(message)
    assert 0 < len(message) < 1000
