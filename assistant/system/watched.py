"""A child process that is kept alive and watched by the data that flows from it.

A lost sound device raises nothing: the stream stays "active" and delivers
nothing, or a driver hangs inside native code. So the only honest sign of life
is data. When none has come for a while, the child is killed and started anew
until it works again.
"""

import queue
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass

from assistant.system import wire
from assistant.system.process import Process

FIRST_RETRY_S, LAST_RETRY_S = 0.25, 1.4  # a device that stays away must not cost a core
RETRY_GROWTH = 1.15


@dataclass(frozen=True, slots=True)
class Link:
    """Whether the child's device works. `detail` is its greeting or why it is lost."""

    up: bool
    detail: str


@dataclass(frozen=True, slots=True)
class Patience:
    """How long without data a child may be: while it starts, and once it has flowed.

    Starting is slow on a small board, or where a sound server fills its buffers first.
    """

    start_s: float = 4.0
    stall_s: float = 1.2


class Watched:
    """Runs `module` as a child; restarts it when it ends, stalls or never starts.

    `on_message` and `on_link` are called from the watching thread, so they must
    be quick. Messages wait in a bounded queue; when the reader falls behind the
    oldest are dropped and counted in `dropped`.
    """

    def __init__(
        self,
        module: str,
        arguments: Callable[[], list[str]],
        on_message: Callable[[bytes, bytes], None],
        on_link: Callable[[Link], None],
        patience: Patience = Patience(),
    ) -> None:
        self.restarts = -1
        self._dropped = 0
        self._module = module
        self._arguments = arguments
        self._on_message = on_message
        self._on_link = on_link
        self._patience = patience
        self._child: Process | None = None
        self._closing = threading.Event()
        self._last_link: Link | None = None
        self._thread = threading.Thread(target=self._watch, name=f"watch {module}", daemon=True)

    def start(self) -> None:
        """Start the child and the watching thread."""
        self._thread.start()

    @property
    def dropped(self) -> int:
        """Messages that nobody took in time."""
        child = self._child
        return self._dropped + (child.dropped if child is not None else 0)

    @property
    def process_id(self) -> int | None:
        """Of the running child."""
        child = self._child
        return child.pid if child is not None else None

    def send(self, kind: bytes, payload: bytes = b"") -> bool:
        """Send the child a message; False when it is not there to take it."""
        child = self._child
        return child is not None and child.send(kind, payload)

    def restart(self) -> None:
        """Kill the child; the watcher starts another (after a change of settings)."""
        child = self._child
        if child is not None:
            child.kill()

    def close(self) -> None:
        """End the child for good."""
        self._closing.set()
        self.restart()
        if self._thread.is_alive() and threading.current_thread() is not self._thread:
            self._thread.join(timeout=2.0)

    def _watch(self) -> None:
        retry_s = FIRST_RETRY_S
        while not self._closing.is_set():
            self.restarts += 1
            try:
                reason = self._run_once()
            except OSError as error:
                reason = f"cannot start the sound process: {error}"
            except Exception as error:  # noqa: BLE001 -- nonsense from a child costs only the child
                reason = f"the sound process sent nonsense ({type(error).__name__})"
            if not self._closing.is_set():
                worked = self._last_link is not None and self._last_link.up
                retry_s = FIRST_RETRY_S if worked else min(LAST_RETRY_S, retry_s * RETRY_GROWTH)
                self._tell(Link(up=False, detail=reason))
                self._closing.wait(retry_s)

    def _run_once(self) -> str:
        child = self._child = Process(self._module, self._arguments())
        try:
            return self._pass_on(child)
        finally:
            self._child = None
            child.close()
            self._dropped += child.dropped

    def _pass_on(self, child: Process) -> str:
        """Hand on messages until the data stops; the reason it stopped."""
        patience_s = self._patience.start_s
        reason = "the sound process ended"
        greeting = ""
        flowing = False
        deadline_s = time.monotonic() + patience_s
        while not self._closing.is_set():
            try:
                message = child.receive(max(0.01, deadline_s - time.monotonic()))
            except queue.Empty:
                return "no sound data for a while" if flowing else "the sound device does not open"
            if message is None:
                return reason
            kind, payload = message
            if kind == wire.ERROR:
                reason = payload.decode(errors="replace")
            elif kind == wire.HELLO:
                greeting = payload.decode(errors="replace")
            else:
                if not flowing:  # a device that opened may still deliver nothing
                    flowing, patience_s = True, self._patience.stall_s
                    self._tell(Link(up=True, detail=greeting))
                self._on_message(kind, payload)
            deadline_s = time.monotonic() + patience_s
        return "closed"

    def _tell(self, link: Link) -> None:
        still_down = self._last_link is not None and not self._last_link.up and not link.up
        if link != self._last_link and not still_down:
            self._on_link(link)
        self._last_link = link
