"""The two displays: a full-screen board on a terminal, and plain lines anywhere else."""

import atexit
import contextlib
import os
import signal
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from enum import Enum, auto
from types import FrameType
from typing import Protocol, TextIO

from assistant.board.layout import board_rows
from assistant.board.lines import changes, facts
from assistant.board.painter import Painter
from assistant.board.phrases import clean
from assistant.board.screen import INPUT_ROWS, Screen
from assistant.board.view import BoardView
from assistant.system.console import raw

LOG_LINES = 200
IDLE_S = 20.0
SMALLEST = (60, 12)  # columns and rows below which lines serve better than a board


class _Repaint(Enum):
    """Asks for everything to be drawn anew."""

    ALL = auto()


class Display(Protocol):
    """Shows a cook. No call ever waits for the terminal."""

    def show(self, view: BoardView) -> None:
        """Show this state of things from now on."""

    def line(self, text: str) -> None:
        """Add one line of the evening: what was heard, said, recorded or refused."""

    def close(self) -> None:
        """Show what is queued, give the terminal back and stop."""


def open_display(
    stream: TextIO,
    *,
    plain: bool = False,
    environ: dict[str, str] | None = None,
    invites: str = "type here",
) -> Display:
    """The board if `stream` is a terminal that can show it, else plain lines.

    `plain` is the option of that name. `environ` (default: the process's) is asked
    for TERM and NO_COLOR. `invites` says what the keyboard is good for.
    """
    environ = dict(os.environ) if environ is None else environ
    if plain or not stream.isatty() or environ.get("TERM", "dumb") == "dumb":
        return PlainBoard(stream)
    size = os.get_terminal_size(stream.fileno())
    if size.columns < SMALLEST[0] or size.lines < SMALLEST[1]:
        return PlainBoard(stream)
    return Board(raw(stream), color=not environ.get("NO_COLOR"), invites=invites)


class PlainBoard:
    """Line by line: each thing that changed, once; every line of the evening."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream
        self._shown: BoardView | None = None
        self._painter: Painter[BoardView | str] = Painter(self._print, "plain lines")

    def show(self, view: BoardView) -> None:
        """Print what is new in `view` since the last one."""
        self._painter.put(view)

    def line(self, text: str) -> None:
        """Print one line."""
        self._painter.put(text)

    def close(self) -> None:
        """Print what is queued and stop."""
        self._painter.close()

    def _print(self, items: list[BoardView | str]) -> None:
        for item in items:
            if isinstance(item, str):
                print(_writable(clean(item), self._stream), file=self._stream)
                continue
            for text in changes(self._shown, item):
                print(_writable(text, self._stream), file=self._stream)
            self._shown = item
        self._stream.flush()


def _writable(text: str, stream: TextIO) -> str:
    encoding = stream.encoding or "ascii"
    return text.encode(encoding, "replace").decode(encoding)


class Board:
    """The full-screen board on a terminal, with two rows at the bottom left to typing.

    It paints when something is shown, when the terminal's size changes, and, so that
    ages and times to go stay true in a quiet hour, every `idle_s` without either; only
    rows that differ are written. What is being typed is never touched: the board's
    rows are outside of the part of the screen that scrolls. `elapsed` counts seconds.
    """

    def __init__(
        self,
        stream: TextIO,
        *,
        color: bool = True,
        invites: str = "type here",
        elapsed: Callable[[], float] = time.monotonic,
        idle_s: float = IDLE_S,
    ) -> None:
        self._screen = Screen(stream, color=color, invites=invites)
        self._stream = stream
        self._elapsed = elapsed
        self._view: BoardView | None = None
        self._shown_s = 0.0
        self._log: list[str] = []
        self._closed = False
        self._painter: Painter[BoardView | str | _Repaint] = Painter(self._paint, "board", idle_s)
        self._restore = _on_signals(lambda: self._painter.put(_Repaint.ALL))
        atexit.register(self.close)

    def show(self, view: BoardView) -> None:
        """Redraw with `view`; of several that come at once only the last is drawn."""
        self._painter.put(view)

    def line(self, text: str) -> None:
        """Add one line to the evening's log."""
        self._painter.put(text)

    def close(self) -> None:
        """Give the terminal back and leave the last state on it as plain lines."""
        if self._closed:
            return
        self._closed = True
        atexit.unregister(self.close)
        self._restore()
        if self._painter.close():
            with contextlib.suppress(OSError, ValueError):  # the terminal is gone
                self._leave()

    def _leave(self) -> None:
        self._screen.leave()
        if self._view is not None:
            for topic, text in facts(self._view).items():
                print(_writable(f"{topic}: {text}", self._stream), file=self._stream)

    def _paint(self, items: list[BoardView | str | _Repaint]) -> None:
        for item in items:
            if isinstance(item, str):
                self._log.append(item)
            elif isinstance(item, BoardView):
                self._view, self._shown_s = item, self._elapsed()
        del self._log[:-LOG_LINES]
        width, height = self._screen.measure(forget=any(isinstance(i, _Repaint) for i in items))
        if self._view is not None:
            now_s = self._view.now_s + self._elapsed() - self._shown_s
            view = replace(self._view, now_s=now_s)
            rows = board_rows(view, width, height - INPUT_ROWS, tuple(self._log))
            self._screen.paint(rows)


def _on_signals(repaint: Callable[[], None]) -> Callable[[], None]:
    """Repaint when the window changes and after a suspend; returns what undoes that.
    Signals can be had on the main thread only; elsewhere the next event repaints."""
    if threading.current_thread() is not threading.main_thread():
        return lambda: None

    def handle(_number: int, _frame: FrameType | None) -> None:
        repaint()

    numbers = [signal.SIGWINCH, signal.SIGCONT] if hasattr(signal, "SIGWINCH") else []
    before = [(number, signal.signal(number, handle)) for number in numbers]

    def restore() -> None:
        if threading.current_thread() is not threading.main_thread():
            return  # the handlers stay; they only queue
        for number, handler in before:
            signal.signal(number, handler)

    return restore
