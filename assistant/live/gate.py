"""Half duplex: while the program speaks, and a moment after, it does not listen.

Without echo cancellation a program answers itself. What counts is when a sound
was captured, not when it was looked at. All times are monotonic seconds.
"""

import threading

SETTLE_S = 0.25  # after the last sample was really played: the room and late buffers


class Gate:
    """Opened and closed by the speaker, asked by the microphone."""

    def __init__(self, *, full_duplex: bool = False) -> None:
        self._full_duplex = full_duplex
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
        with self._lock:
            return self._full_duplex or (self._speaking == 0 and begin_s >= self._opens_s)
