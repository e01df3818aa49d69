"""Push to talk: a foot pedal or any other key of an evdev device.

On Linux every key device is a file of fixed records, so reading it needs no
library; the published ones must be compiled against kernel headers.
"""

import contextlib
import os
import struct
import threading
from collections.abc import Callable
from pathlib import Path

RECORD = struct.Struct("@llHHi")  # struct input_event: seconds, microseconds, type, code, value
KEY_TYPE = 1
RELEASED, PRESSED = 0, 1
RETRY_S = 1.0


def key_of(record: bytes) -> bool | None:
    """True: a key went down; False: it came up; None: something else (a repeat, a sync)."""
    _, _, kind, _, value = RECORD.unpack(record)
    if kind != KEY_TYPE or value not in (RELEASED, PRESSED):
        return None
    return bool(value == PRESSED)


class Pedal:
    """Watches one device file; found again when it is plugged in again.

    `on_key` gets True for pressed and False for released, `on_trouble` one line
    when the device cannot be read; both are called from the watching thread.
    """

    def __init__(
        self, path: Path, on_key: Callable[[bool], None], on_trouble: Callable[[str], None]
    ) -> None:
        self._path = path
        self._on_key = on_key
        self._on_trouble = on_trouble
        self._closing = threading.Event()
        self._thread = threading.Thread(target=self._watch, name="pedal", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Stop watching; a read that waits for a key ends with the program."""
        self._closing.set()

    def _watch(self) -> None:
        told = False
        while not self._closing.is_set():
            try:
                with self._path.open("rb", buffering=0) as device:
                    told = False
                    self._follow(device.fileno())
            except OSError as error:
                if not told:
                    self._on_trouble(trouble_line(self._path, error))
                    told = True
            self._closing.wait(RETRY_S)

    def _follow(self, number: int) -> None:
        while len(record := os.read(number, RECORD.size)) == RECORD.size:
            pressed = key_of(record)
            if pressed is not None and not self._closing.is_set():
                with contextlib.suppress(RuntimeError):  # the program is ending
                    self._on_key(pressed)


def trouble_line(path: Path, error: OSError) -> str:
    """One line on why the pedal cannot be read, and what to do."""
    if isinstance(error, PermissionError):
        return f"no permission to read {path}: sudo usermod -aG input $USER, then log in again"
    if isinstance(error, FileNotFoundError):
        return f"the pedal {path} is not there: plug it in (ls /dev/input/by-id shows its name)"
    return f"the pedal {path} cannot be read: {error.strerror}"
