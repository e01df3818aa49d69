"""An object that lives in a child process, restarted when it dies or hangs.

Native recognisers abort instead of raising. A child's death costs the utterance
it was working on, never the cook. Messages are pickled over two pipes.
"""

import os
import signal
import subprocess
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from typing import Any, BinaryIO, cast

from assistant.system import pickled
from assistant.system.child_python import child_command

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
    _process: "subprocess.Popen[bytes] | None" = field(default=None, init=False)
    _in: BinaryIO | None = field(default=None, init=False)
    _out: pickled.Inbox | None = field(default=None, init=False)
    _fresh: bool = field(default=False, init=False)

    def start(self) -> None:
        """Start the child without waiting for its models."""
        command, environment = child_command("assistant.system.child")
        process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, env=environment | ONE_THREAD
        )
        self._process = process
        self._in = cast(BinaryIO, process.stdin)
        self._out = pickled.Inbox(cast(BinaryIO, process.stdout))
        self._fresh = True
        self._send((self.make, self.arguments))

    @property
    def alive(self) -> bool:
        """Whether the process runs."""
        return self._process is not None and self._process.poll() is None

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
            self._process.kill()
            self._process.wait()
        if self._in is not None:
            with suppress(OSError):  # what was still to be written has nobody to read it
                self._in.close()
        self._process = self._in = self._out = None

    def _restart(self) -> None:
        if self._process is not None:
            self.restarts += 1
            self.close()
        self.start()

    def _send(self, message: object) -> None:
        if self._in is None:
            raise ChildError("the recogniser's process is gone")
        try:
            pickled.send(self._in, message)
        except OSError as error:
            self.close_after_failure()
            raise ChildError("the recogniser's process is gone") from error

    def _receive(self, timeout_s: float) -> Any:
        if self._out is None:
            raise ChildError("the recogniser's process is gone")
        try:
            if not self._out.poll(timeout_s):
                self.close_after_failure()
                raise ChildError(f"the recogniser did not answer within {timeout_s:g} s")
            ok, answer = self._out.take()
        except EOFError as error:
            self.close_after_failure()
            raise ChildError("the recogniser's process died") from error
        if not ok:
            raise ChildRefusedError(answer)
        return answer

    def close_after_failure(self) -> None:
        """Remove what is left of the process; the next call starts another."""
        if self._process is not None:
            self._process.kill()
            self._process.wait()


def _serve() -> None:
    """The child's side: make the object, then answer calls until the parent is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is the parent's to answer
    reader, writer = os.fdopen(os.dup(0), "rb"), os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)  # native libraries print; that must not reach the pipe
    try:
        make, arguments = pickled.receive(reader)
    except EOFError:
        return
    with suppress(EOFError, OSError, KeyboardInterrupt):  # the parent was closed or killed
        _answer(make, arguments, reader, writer)


def _answer(
    make: Callable[..., object], arguments: tuple[Any, ...], reader: BinaryIO, writer: BinaryIO
) -> None:
    """Make the object and answer calls. Raises EOFError or OSError once nobody asks."""
    try:
        made = make(*arguments)
    except Exception as error:  # noqa: BLE001 -- whatever it is, the parent is told
        pickled.send(writer, (False, str(error)))
        return
    pickled.send(writer, (True, None))
    while True:
        method, arguments = pickled.receive(reader)
        try:
            answer = (True, getattr(made, method)(*arguments))
        except Exception as error:  # noqa: BLE001 -- whatever it is, the parent is told
            answer = (False, str(error))
        pickled.send(writer, answer)


if __name__ == "__main__":
    _serve()
