"""A thread that does the display's slow work, so that the session never waits for it."""

import queue
import threading
from collections.abc import Callable
from typing import Generic, TypeVar

Item = TypeVar("Item")
CLOSE_WAIT_S = 2.0


class Painter(Generic[Item]):
    """Hands everything that was put since the last time to `paint`, on its own thread.

    `put` only queues: it may be called from any thread and from a signal handler.
    With `idle_s`, `paint` gets an empty list when nothing came for so long.
    A display that is gone (`OSError`) ends the painting, never the cook.
    """

    def __init__(
        self, paint: Callable[[list[Item]], None], name: str, idle_s: float | None = None
    ) -> None:
        self._paint = paint
        self._idle_s = idle_s
        self._queue: queue.SimpleQueue[Item | None] = queue.SimpleQueue()
        self._thread = threading.Thread(target=self._run, name=name, daemon=True)
        self._thread.start()

    def put(self, item: Item) -> None:
        """Queue one thing to show."""
        self._queue.put(item)

    def close(self) -> bool:
        """Paint what is queued and stop; False if the display would not take it in time."""
        self._queue.put(None)
        self._thread.join(CLOSE_WAIT_S)
        return not self._thread.is_alive()

    def _run(self) -> None:
        last = False
        while not last:
            taken = self._take()
            last = None in taken
            items = [item for item in taken if item is not None]
            try:
                if items or not last:
                    self._paint(items)
            except (OSError, ValueError):  # ValueError: the stream was closed under us
                return

    def _take(self) -> list[Item | None]:
        """All that is queued; waits for the first, but no longer than `idle_s`."""
        try:
            taken = [self._queue.get(timeout=self._idle_s)]
        except queue.Empty:
            return []
        while not self._queue.empty():
            taken.append(self._queue.get())
        return taken
