"""One child process of this program: started with its own code, spoken to in framed messages.

What each child is for lies elsewhere: an object to call (`assistant.system.child`), a device
whose data must not stop (`assistant.system.watched`), a short look at one
(`assistant.app.check_sound`).
"""

import contextlib
import queue
import subprocess
import threading
from collections.abc import Mapping, Sequence
from typing import BinaryIO, cast

from assistant.system import wire
from assistant.system.child_python import child_command

Message = tuple[bytes, bytes]
KEPT_MESSAGES = 256  # when the reader falls behind, the oldest are dropped


class Process:
    """`module` run as a child; its messages wait in a bounded queue.

    `dropped` counts those that nobody took in time. Raises OSError when it cannot start.
    """

    def __init__(
        self,
        module: str,
        arguments: Sequence[str] = (),
        *,
        environment: Mapping[str, str] | None = None,
        quiet: bool = True,
    ) -> None:
        command, own = child_command(module, arguments)
        self._popen = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL if quiet else None, env={**own, **(environment or {})},
            start_new_session=True,  # Ctrl-C is the program's to answer
        )  # fmt: skip
        self.dropped = 0
        self._sending = threading.Lock()
        self._inbox: queue.Queue[Message | None] = queue.Queue(KEPT_MESSAGES)
        self._reader = threading.Thread(target=self._read, name=f"read {module}", daemon=True)
        self._reader.start()

    @property
    def pid(self) -> int:
        """The process id."""
        return self._popen.pid

    @property
    def alive(self) -> bool:
        """Whether the process runs."""
        return self._popen.poll() is None

    def send(self, kind: bytes, payload: bytes = b"") -> bool:
        """Send a message; False when nobody is there to take it."""
        with self._sending:
            try:
                wire.send(cast(BinaryIO, self._popen.stdin), kind, payload)
            except (OSError, ValueError):
                return False
            return True

    def receive(self, within_s: float) -> Message | None:
        """The next message, or None at the end. Raises queue.Empty when none comes in time."""
        message = self._inbox.get(timeout=max(0.0, within_s))
        if message is None:
            with contextlib.suppress(queue.Full):
                self._inbox.put_nowait(None)  # the end stays the end, however often it is asked
        return message

    def kill(self) -> None:
        """End the child at once."""
        self._popen.kill()

    def close(self) -> None:
        """End the child and let go of its pipes."""
        self._popen.kill()
        self._popen.wait()
        self._reader.join(timeout=1.0)
        with contextlib.suppress(OSError, ValueError), self._sending:
            cast(BinaryIO, self._popen.stdin).close()
        cast(BinaryIO, self._popen.stdout).close()

    def _read(self) -> None:
        message: Message | None = (b"", b"")
        while message is not None:
            try:
                message = wire.receive(cast(BinaryIO, self._popen.stdout))
            except (OSError, ValueError):
                message = None
            try:
                self._inbox.put_nowait(message)
            except queue.Full:
                with contextlib.suppress(queue.Empty):
                    self._inbox.get_nowait()
                    self.dropped += 1
                self._inbox.put(message)
