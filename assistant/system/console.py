"""The one edge to the terminal: nothing that is printed can move its cursor or recolour it.

Names, notes, sauces, file names, rules and what libraries say in their errors reach the
screen from many places; each could hold an escape sequence. `guarded` puts this edge around
standard output and error for a whole command. The board draws past it, with `raw`, what it
has cleaned itself.
"""

import contextlib
import os
import sys
import unicodedata
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, TextIO, cast

UNREAD = "what is printed is not taken any more; the cook goes on, and is recorded"
_KEPT = "\n\t"
UNSHOWN = {"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"}
"""Unicode categories of what a terminal could act on, or not show."""


def visible(text: str) -> str:
    """`text` with whatever a terminal could act on, or not show, spelled out as in JSON
    (`\\u001b`): nothing is lost, and a JSON line stays one."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(one if _is_shown(one) else _spelled(one) for one in text)


def one_line(text: str) -> str:
    """`text` as one line that can be printed anywhere."""
    return visible(" ".join(text.split()))


def _is_shown(letter: str) -> bool:
    return letter in _KEPT or unicodedata.category(letter) not in UNSHOWN


def _spelled(letter: str) -> str:
    units = letter.encode("utf-16-be", "surrogatepass")
    return "".join(f"\\u{units[at : at + 2].hex()}" for at in range(0, len(units), 2))


class _Guarded:
    """A text stream whose every character goes through `visible`. It has no `buffer`:
    there is no way around."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self.outlives = False
        self._is_gone = False

    def write(self, text: str) -> int:
        encoding = self._stream.encoding or "ascii"
        shown = visible(text).encode(encoding, "replace").decode(encoding)
        self._try(lambda: self._stream.write(shown))
        return len(text)

    def flush(self) -> None:
        self._try(self._stream.flush)

    def writelines(self, lines: list[str]) -> None:
        for line in lines:
            self.write(line)

    def __getattr__(self, name: str) -> Any:
        if name in {"buffer", "detach", "reconfigure"}:
            raise AttributeError(name)
        return getattr(self._stream, name)

    def _try(self, put: Callable[[], object]) -> None:
        if self._is_gone:
            return
        try:
            put()
        except OSError:
            if not self.outlives:
                raise
            self._let_go()

    def _let_go(self) -> None:
        """From now on what is written goes nowhere, also what Python still holds back."""
        self._is_gone = True
        with contextlib.suppress(OSError, ValueError), Path(os.devnull).open("wb") as nowhere:
            os.dup2(nowhere.fileno(), self._stream.fileno())
        if sys.stderr is not self:
            with contextlib.suppress(OSError):
                print(UNREAD, file=sys.stderr, flush=True)


def outlive_readers() -> None:
    """A closed pipe or a full disk behind standard output or error ends the printing, not
    the cook. For a live cook: any other command may end with its reader."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, _Guarded):
            stream.outlives = True


@contextlib.contextmanager
def guarded() -> Iterator[None]:
    """Standard output and error behind the edge, until the block ends."""
    before = sys.stdout, sys.stderr
    sys.stdout, sys.stderr = (_behind(stream) for stream in before)
    try:
        yield
    finally:
        sys.stdout, sys.stderr = before


def _behind(stream: TextIO) -> TextIO:
    # A program started without one has None here; print() then prints nothing.
    if stream is None or isinstance(stream, _Guarded):
        return stream
    return cast("TextIO", _Guarded(stream))


def raw(stream: TextIO) -> TextIO:
    """The terminal itself, for the board alone."""
    return stream._stream if isinstance(stream, _Guarded) else stream


def overwrite(text: str, *, ends: bool) -> None:
    """Put `text` over the line that the terminal of standard error is on."""
    raw(sys.stderr).write("\r" + visible(text) + "\n" * ends)
    sys.stderr.flush()
