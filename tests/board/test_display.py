"""The displays on real pseudo-terminals and streams."""

import fcntl
import io
import os
import pty
import signal
import struct
import termios
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import TextIO

import pyte
import pytest
from syrupy.assertion import SnapshotAssertion

from assistant.board.display import Board, Display, PlainBoard, open_display
from assistant.board.lines import changes, facts
from assistant.cook.state import Reading
from assistant.heat.bird.evidence import Span
from tests.board.examples import bird, evening, minutes, with_cook


class Terminal:
    """A pseudo-terminal whose screen is kept by a terminal emulator."""

    def __init__(self, columns: int, rows: int) -> None:
        self.master, slave = pty.openpty()
        self.stream: TextIO = os.fdopen(slave, "w", encoding="utf-8")
        self.screen = pyte.Screen(columns, rows)
        self._feed = pyte.ByteStream(self.screen)
        self.resize(columns, rows)

    def resize(self, columns: int, rows: int) -> None:
        size = struct.pack("HHHH", rows, columns, 0, 0)
        fcntl.ioctl(self.stream.fileno(), termios.TIOCSWINSZ, size)
        self.screen.resize(rows, columns)

    def type(self, keys: bytes) -> None:
        os.write(self.master, keys)  # the terminal driver echoes them

    def take(self, until: str) -> str:
        """Read what was written until the screen holds `until`."""
        while until not in "\n".join(self.screen.display):
            self._feed.feed(os.read(self.master, 65536))
        return "\n".join(line.rstrip() for line in self.screen.display)


@contextmanager
def terminal(columns: int, rows: int) -> Iterator[Terminal]:
    one = Terminal(columns, rows)
    try:
        yield one
    finally:
        one.stream.close()
        os.close(one.master)


def test_the_board_draws_on_events_and_gives_the_terminal_back() -> None:
    with terminal(80, 24) as tty:
        board = Board(tty.stream)
        board.show(evening())
        assert "11 MIN" not in tty.take("type here")  # drawn large, not printed
        assert "motor end apricot" in tty.take("Heard bird two")
        board.show(with_cook(evening(heard="lid off"), serve_s=minutes(90)))
        assert "dinner 5:30" in tty.take("Heard lid off")
        assert "fire: 372 F" in _close(board, tty)


def test_ages_and_times_to_go_stay_true_while_nothing_happens() -> None:
    passed = [0.0]
    with terminal(80, 24) as tty:
        board = Board(tty.stream, elapsed=lambda: passed[0], idle_s=0.01)
        board.show(evening())
        assert "127 F breast, 5 min ago" in tty.take("Heard bird two")
        passed[0] = 12 * 60.0
        text = tty.take("17 min ago")
        assert text.startswith(" 4:12 ")
        tty.take("now   look at bird 2")
        _close(board, tty)


def test_typing_is_left_alone_while_the_board_redraws() -> None:
    with terminal(80, 24) as tty:
        board = Board(tty.stream)
        board.show(evening())
        tty.take("Heard bird two")
        tty.type(b"bird one rea")
        tty.take("bird one rea")
        board.show(evening(heard="something else"))
        tty.take("Heard something else")
        tty.type(b"ds 118")
        lines = tty.take("bird one reads 118").splitlines()
        assert lines[-1] == "bird one reads 118"
        tty.type(b"\n")
        tty.type(b"next one")
        lines = tty.take("next one").splitlines()
        assert lines[-2:] == ["bird one reads 118", "next one"]
        assert lines[0].startswith(" 4:00")  # the board did not scroll away
        _close(board, tty)


def test_a_resized_terminal_gets_the_board_of_its_new_size() -> None:
    with terminal(80, 24) as tty:
        board = Board(tty.stream)
        board.show(evening())
        tty.take("Heard bird two")
        tty.resize(120, 40)
        os.kill(os.getpid(), signal.SIGWINCH)
        tty.take("── talk")
        assert tty.screen.display[37] == "── type here ".ljust(120, "─")
        _close(board, tty)


def test_a_terminal_that_takes_nothing_does_not_hold_up_the_cook() -> None:
    with terminal(200, 50) as tty:
        board = Board(tty.stream)
        for minute in range(2000):  # far more than the terminal buffers
            board.show(replace(evening(), now_s=minutes(minute)))
            board.line(f"line {minute}")
        tty.take("type here")  # only now does anyone read
        _close(board, tty)


def test_a_terminal_that_went_away_does_not_stop_the_cook() -> None:
    tty = Terminal(80, 24)
    board = Board(tty.stream)
    os.close(tty.master)
    for minute in range(50):
        board.show(replace(evening(), now_s=minutes(minute)))
    board.close()
    with pytest.raises(OSError):  # noqa: PT011 -- flushing what never went out; EIO by system
        tty.stream.close()


def test_no_color_leaves_only_bold_and_reverse(monkeypatch: pytest.MonkeyPatch) -> None:
    with terminal(80, 24) as tty:
        board = open_display(tty.stream, environ={"TERM": "xterm", "NO_COLOR": "1"})
        board.show(evening(notice="microphone lost"))
        tty.take("Heard bird two")
        colors = {cell.fg for row in tty.screen.buffer.values() for cell in row.values()}
        assert colors == {"default"}
        _close(board, tty)


def test_an_ascii_terminal_gets_ascii() -> None:
    with terminal(80, 24) as tty:
        tty.stream.reconfigure(encoding="ascii")  # type: ignore[attr-defined]  # a TextIOWrapper
        board = Board(tty.stream)
        board.show(evening())
        text = tty.take("Heard bird two")
        assert text.isascii()
        assert "?" not in text
        _close(board, tty)


def _close(board: Display, tty: Terminal) -> str:
    """Close the board while someone reads the terminal; what was left on it."""
    left: list[str] = []
    reader = threading.Thread(target=lambda: left.append(tty.take("next: ")))
    reader.start()
    board.close()
    reader.join(timeout=20)
    return left[0]


def test_pipes_and_small_or_dumb_terminals_get_plain_lines() -> None:
    assert isinstance(open_display(io.StringIO()), PlainBoard)
    with terminal(50, 10) as tty:
        assert isinstance(open_display(tty.stream, environ={"TERM": "xterm"}), PlainBoard)
    with terminal(80, 24) as tty:
        assert isinstance(open_display(tty.stream, environ={"TERM": "dumb"}), PlainBoard)
        plain = open_display(tty.stream, plain=True, environ={"TERM": "xterm"})
        assert isinstance(plain, PlainBoard)


def test_plain_lines_tell_what_changed_once(snapshot: SnapshotAssertion) -> None:
    stream = io.StringIO()
    board = PlainBoard(stream)
    board.line("Lid off.\x1b[2J")
    board.show(evening())
    board.show(evening())
    board.show(replace(evening(), now_s=minutes(3)))
    board.show(with_cook(evening(), serve_s=minutes(95)))
    board.close()
    assert stream.getvalue() == snapshot
    assert stream.getvalue().count("bird 1:") == 1


def test_plain_lines_survive_a_narrow_encoding() -> None:
    raw = io.BytesIO()
    stream = io.TextIOWrapper(raw, encoding="ascii")
    board = PlainBoard(stream)
    board.line("prêt")
    board.close()
    assert raw.getvalue() == b"pr?t\n"


def test_time_passing_is_no_change() -> None:
    assert changes(evening(), replace(evening(), now_s=minutes(5))) == ()


def test_lines_say_what_a_bird_waits_for_as_a_person_would() -> None:
    off = (Span(minutes(-60), minutes(-5)),)
    hot = (Reading(minutes(-9), 170.0, 5, "breast"), Reading(minutes(-8), 167.0, 6, "thigh"))
    birds = (
        bird(1), bird(2, on_heat=off), bird(3, on_heat=(), readings=()),
        bird(4, on_heat=off, readings=hot),
    )  # fmt: skip
    told = facts(with_cook(evening(), birds=birds))
    assert "waits for sauce mark about 4:07" in told["bird 1"]
    assert told["bird 2"].endswith("waits to go back on, now")
    assert told["bird 3"].endswith("not read yet, waits to go on")
    assert told["bird 4"].endswith("167 F thigh, 8 min ago, resting till 4:10")
