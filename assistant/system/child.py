"""An object that lives in a child process, restarted when it dies or hangs.

Native recognisers abort instead of raising. A child's death costs the utterance
it was working on, never the cook. Its values are pickled: both
ends are this program.
"""

import os
import pickle
import queue
import signal
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, BinaryIO

from assistant.system import wire
from assistant.system.process import Process

START_S = 30.0
"""How long a child may take to load its models on a slow or busy machine."""
ONE_THREAD = dict.fromkeys(("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"), "1")
"""The cook's program needs a core too: a child keeps to one thread of arithmetic."""


class ChildError(Exception):
    """The child died or hung, or the object in it refused; says which."""


class ChildRefusedError(ChildError):
    """The object in the child raised; `args[0]` is its message. The child lives on."""


@dataclass
class Child:
    """`make(*arguments)` is called in the child; its methods through `call`.

    `make` must be importable by name. Calls are answered one at a time.
    """

    make: Callable[..., object]
    arguments: tuple[Any, ...] = ()
    timeout_s: float = 20.0
    restarts: int = field(default=0, init=False)
    _process: Process | None = field(default=None, init=False)
    _fresh: bool = field(default=False, init=False)

    def start(self) -> None:
        """Start the child without waiting for its models."""
        self._process = Process("assistant.system.child", environment=ONE_THREAD, quiet=False)
        self._fresh = True
        self._send((self.make, self.arguments))

    @property
    def alive(self) -> bool:
        """Whether the process runs."""
        return self._process is not None and self._process.alive

    @property
    def pid(self) -> int | None:
        """The process id of a running child."""
        return self._process.pid if self._process and self.alive else None

    def ready(self) -> None:
        """Wait until the object is made. Raises ChildError when it cannot be."""
        if not self.alive:
            self._restart()
        if self._fresh:
            self._fresh = False
            self._receive(START_S)

    def call(self, method: str, *arguments: object) -> Any:
        """The method's answer. Raises ChildError."""
        self.ready()
        self._send((method, arguments))
        return self._receive(self.timeout_s)

    def close(self) -> None:
        """End the child."""
        if self._process is not None:
            self._process.close()
        self._process = None

    def _restart(self) -> None:
        if self._process is not None:
            self.restarts += 1
            self.close()
        self.start()

    def _send(self, message: object) -> None:
        process = self._process
        if process is None or not process.send(wire.VALUE, pickle.dumps(message)):
            self.close_after_failure()
            raise ChildError("the recogniser's process is gone")

    def _receive(self, timeout_s: float) -> Any:
        if self._process is None:
            raise ChildError("the recogniser's process is gone")
        try:
            message = self._process.receive(timeout_s)
        except queue.Empty as error:
            self.close_after_failure()
            raise ChildError(f"the recogniser did not answer within {timeout_s:g} s") from error
        if message is None:
            self.close_after_failure()
            raise ChildError("the recogniser's process died")
        ok, answer = pickle.loads(message[1])  # noqa: S301 -- from this program's own child
        if not ok:
            raise ChildRefusedError(answer)
        return answer

    def close_after_failure(self) -> None:
        """Remove what is left of the process; the next call starts another."""
        if self._process is not None:
            self._process.close()


def _serve() -> None:
    """The child's side: make the object, then answer calls until the parent is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the parent's to answer
    reader, writer = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # native libraries print; that must not reach the pipe
    with suppress(EOFError, OSError, KeyboardInterrupt):  # the parent was closed or killed
        make, arguments = _take(reader)
        _answer(make, arguments, reader, writer)


def _answer(
    make: Callable[..., object], arguments: tuple[Any, ...], reader: BinaryIO, writer: BinaryIO
) -> None:
    """Make the object and answer calls. Raises EOFError or OSError once nobody asks."""
    try:
        made = make(*arguments)
    except Exception as error:  # noqa: BLE001 -- whatever it is, the parent is told
        _give(writer, (False, str(error)))
        return
    _give(writer, (True, None))
    while True:
        method, arguments = _take(reader)
        try:
            answer = (True, getattr(made, method)(*arguments))
        except Exception as error:  # noqa: BLE001 -- whatever it is, the parent is told
            answer = (False, str(error))
        _give(writer, answer)


def _take(reader: BinaryIO) -> Any:
    message = wire.receive(reader)
    if message is None:
        raise EOFError
    return pickle.loads(message[1])  # noqa: S301 -- from the program that started this child


def _give(writer: BinaryIO, value: object) -> None:
    wire.send(writer, wire.VALUE, pickle.dumps(value))


if __name__ == "__main__":
    _serve()
