"""A terminal's screen: the board's rows on top, two rows to type in at the bottom.

Plain control sequences every terminal since the VT100 knows. The rows to type in
are the scroll region, so the terminal's own line editing works under the board;
the cursor is put back where it was after every painting.
"""

import io
import os
from collections.abc import Sequence
from typing import TextIO

from rich.console import Console
from rich.text import Text

INPUT_ROWS = 3  # a rule, the line typed before, the line being typed
ENTER, LEAVE = "\x1b[?1049h", "\x1b[r\x1b[?1049l"
SAVE, RESTORE = "\x1b7\x1b[?25l", "\x1b8\x1b[?25h"
ASCII = str.maketrans("─·▒█╎…▀▄", '-.=#:~"_')


class Screen:
    """Owns the screen of `stream` until `leave`; `invites` stands above what is typed."""

    def __init__(self, stream: TextIO, *, color: bool, invites: str = "type here") -> None:
        self._stream = stream
        self._rule = f"── {invites} "
        self._color = color
        self._painted: list[str] = []
        self._size = (0, 0)

    def measure(self, *, forget: bool) -> tuple[int, int]:
        """Columns and rows. When they changed, or with `forget`, the screen is set up anew."""
        found = os.get_terminal_size(self._stream.fileno())
        size = (found.columns, found.lines)
        if size != self._size or forget:
            self._set_up(size)
        return size

    def _set_up(self, size: tuple[int, int]) -> None:
        columns, rows = size
        enter = ENTER if self._size == (0, 0) else ""
        self._size, self._painted = size, []
        rule = self._encodable(self._rule.ljust(columns, "─")[:columns])
        self._write(
            f"{enter}\x1b[r\x1b[2J\x1b[{rows - 2};1H{rule}\x1b[{rows - 1};{rows}r\x1b[{rows};1H"
        )

    def paint(self, rows: Sequence[Text]) -> None:
        """Put `rows` on the screen from the top; those that did not change are left alone."""
        drawn = self._drawn(rows)
        old = self._painted
        out = [
            f"\x1b[{number + 1};1H\x1b[2K{row}"
            for number, row in enumerate(drawn)
            if number >= len(old) or old[number] != row
        ]
        self._painted = drawn
        if out:
            self._write(SAVE + "".join(out) + RESTORE)

    def leave(self) -> None:
        """Give the screen back as it was."""
        if self._size != (0, 0):
            self._write(LEAVE)

    def _drawn(self, rows: Sequence[Text]) -> list[str]:
        console = Console(
            file=io.StringIO(), force_terminal=True, width=self._size[0], legacy_windows=False,
            color_system="standard", no_color=not self._color, highlight=False,
        )  # fmt: skip
        drawn = []
        for row in rows:
            with console.capture() as capture:
                console.print(row, end="", overflow="crop", no_wrap=True, soft_wrap=True)
            drawn.append(self._encodable(capture.get()))
        return drawn

    def _encodable(self, text: str) -> str:
        encoding = (self._stream.encoding or "ascii").lower()
        if "utf" in encoding:
            return text
        return text.translate(ASCII).encode(encoding, "replace").decode(encoding)

    def _write(self, text: str) -> None:
        self._stream.write(text)
        self._stream.flush()
