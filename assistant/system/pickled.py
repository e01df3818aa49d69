"""Python values over the pipes of a child process, on any system.

`multiprocessing.connection` speaks over file descriptors on one system and over handles
on another; two streams and a thread that reads do on all. Both ends are this program.
"""

import pickle
import struct
import threading
import time
from collections import deque
from typing import Any, BinaryIO

LENGTH = struct.Struct("<Q")
_END = object()


def send(stream: BinaryIO, value: object) -> None:
    """Write one value and flush it. Raises OSError when the other side is gone."""
    data = pickle.dumps(value, pickle.HIGHEST_PROTOCOL)
    try:
        stream.write(LENGTH.pack(len(data)))
        stream.write(data)
        stream.flush()
    except ValueError as error:  # closed on this side
        raise OSError(str(error)) from error


def receive(stream: BinaryIO) -> Any:
    """Read one value. Raises EOFError at the end of the stream, or where it is torn."""
    head = stream.read(LENGTH.size)
    if len(head) < LENGTH.size:
        raise EOFError
    (length,) = LENGTH.unpack(head)
    data = stream.read(length)
    if len(data) < length:
        raise EOFError
    return pickle.loads(data)  # noqa: S301 -- written by this program's own other process


class Inbox:
    """The values that come from a stream, read by a thread, so that they can be waited for."""

    def __init__(self, stream: BinaryIO) -> None:
        self._stream = stream
        self._values: deque[object] = deque()
        self._changed = threading.Condition()
        self._thread = threading.Thread(target=self._read, name="answers", daemon=True)
        self._thread.start()

    def poll(self, within_s: float) -> bool:
        """Whether something can be taken within that time, be it the end."""
        until_s = time.monotonic() + within_s
        with self._changed:
            return self._changed.wait_for(
                lambda: bool(self._values), max(0.0, until_s - time.monotonic())
            )

    def take(self) -> Any:
        """The next value; waits for it. Raises EOFError once the stream has ended."""
        with self._changed:
            self._changed.wait_for(lambda: bool(self._values))
            if self._values[0] is _END:
                raise EOFError
            return self._values.popleft()

    def _read(self) -> None:
        value: object = None
        while value is not _END:
            try:
                value = receive(self._stream)
            except Exception:  # noqa: BLE001 -- torn or nonsense: either way the child is done with
                value = _END
            with self._changed:
                self._values.append(value)
                self._changed.notify_all()
        self._stream.close()
