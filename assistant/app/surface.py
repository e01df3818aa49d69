"""Where a live cook shows itself: its lines, the board, and the standing faults."""

import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from assistant.board.display import open_display
from assistant.session.line import Line
from assistant.session.printing import printer
from assistant.session.session import Session
from assistant.session.view import Shower
from assistant.sound.microphone_level import ADVICE, Level, fault_of, meter

SURE_LEVELS = 8  # half seconds of the same trouble before advice is given


@dataclass
class Surface:
    """Faults and lines for people, beside the session's own; `put_notice` shows a
    standing fault, or takes it away; `put_level` shows a bar."""

    put_line: Callable[[str], None]
    put_notice: Callable[[str | None], None]
    put_level: Callable[[str], None]
    fault: str | None = None
    advice: str | None = None
    suspicions: int = 0

    def notice(self, text: str | None) -> None:
        """A device was lost or is back."""
        self.fault = text
        self._show()

    def line(self, text: str) -> None:
        """One line of the evening."""
        self.put_line(text)

    def level(self, level: Level) -> None:
        """The bar, and what is wrong with the input when it stays wrong."""
        self.put_level(meter(level))
        fault = fault_of(level)
        self.suspicions = self.suspicions + 1 if fault is not None else 0
        advice = ADVICE[fault] if fault is not None and self.suspicions >= SURE_LEVELS else None
        if advice != self.advice:
            self.advice = advice
            self._show()

    def _show(self) -> None:
        self.put_notice("; ".join(filter(None, (self.fault, self.advice))) or None)


@dataclass(frozen=True)
class Showing:
    """Where a live cook shows itself: lines, the whole view, and the surface."""

    show: Callable[[Line], None]
    refresh: Callable[[Session], None]
    surface: Surface


@contextmanager
def showing(*, as_json: bool, plain: bool, status: Path | None) -> Iterator[Showing]:
    """JSON on standard output with everything else aside, or a display."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))  # so that devices are let go
    if as_json:
        aside = say_aside
        surface = Surface(aside, lambda text: aside(text) if text else None, lambda _: None)
        yield Showing(printer(sys.stdout, as_json=True), lambda _: None, surface)
        return
    display = open_display(sys.stdout, plain=plain)
    shower = Shower(display, status)

    def put_notice(text: str | None) -> None:
        shower.notice = text

    try:
        yield Showing(shower.line, shower.refresh, Surface(display.line, put_notice, shower.level))
    finally:
        display.close()


def say_aside(text: str) -> None:
    """One line beside the session's own, where those go to a program."""
    print(text, file=sys.stderr, flush=True)
