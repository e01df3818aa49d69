"""While the program speaks, and a moment after, it listens only to what is free of its voice.

Without echo cancellation a program answers itself, so it is half duplex until a canceller
has learned the room, and for good where there is none. What counts is when a sound
was captured, not when it was looked at. All times are monotonic seconds.
"""

import threading
from collections.abc import Callable

SETTLE_S = 0.25  # after the last sample was really played: the room and late buffers


class Gate:
    """Opened and closed by the speaker, asked by the microphone. `hears_through`: whether
    its own voice does not reach what is listened to."""

    def __init__(self, hears_through: Callable[[], bool] = lambda: False) -> None:
        self._hears_through = hears_through
        self._lock = threading.Lock()
        self._speaking = 0
        self._opens_s = float("-inf")

    def started(self) -> None:
        """The speaker is about to send its first sample."""
        with self._lock:
            self._speaking += 1

    def ended(self, at_s: float) -> None:
        """The speaker's last sample was played at `at_s`."""
        with self._lock:
            self._speaking = max(0, self._speaking - 1)
            self._opens_s = max(self._opens_s, at_s + SETTLE_S)

    def lets_through(self, begin_s: float) -> bool:
        """Whether sound captured from `begin_s` on may be listened to."""
        return self.is_quiet(begin_s) or self._hears_through()

    def is_quiet(self, begin_s: float) -> bool:
        """Whether nothing of its own sounded in what was captured from `begin_s` on."""
        with self._lock:
            return self._speaking == 0 and begin_s >= self._opens_s
