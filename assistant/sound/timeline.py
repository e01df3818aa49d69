"""When a sample of a steady stream passed its device, from stamps that can only be late.

A stamp is taken after the driver handed a block over, so a busy machine makes it late and
nothing makes it early: the earliest of the last seconds is the truth.
"""

from collections import deque

WINDOW_S = 3.0
HOLD_S = 0.005  # smaller changes are jitter: whoever follows the stream wants no steps


class Timeline:
    """One stream: seconds of it against monotonic seconds. Of a stream that ran dry and goes on
    later, that is known when the stamps before are `window_s` old."""

    def __init__(self, window_s: float = WINDOW_S) -> None:
        self._window_s = window_s
        self._offsets: deque[tuple[float, float]] = deque()
        self._offset_s: float | None = None

    def stamp(self, position_s: float, at_s: float) -> None:
        """The stream had moved on to `position_s` when the clock showed `at_s`."""
        self._offsets.append((position_s, at_s - position_s))
        while self._offsets[0][0] < position_s - self._window_s:
            self._offsets.popleft()
        earliest = min(offset for _, offset in self._offsets)
        if self._offset_s is None or abs(earliest - self._offset_s) > HOLD_S:
            self._offset_s = earliest

    def at(self, position_s: float) -> float | None:
        """When the stream passes `position_s`; None before the first stamp."""
        return None if self._offset_s is None else position_s + self._offset_s
