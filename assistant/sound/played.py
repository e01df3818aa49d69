"""What the speaker played and when, for whoever has to take it out of the microphone."""

import threading

import numpy as np

from assistant.sound.samples import RATE_HZ, Samples

KEPT_S = 8.0
JOINS_S = 0.008  # times of one sound that jitter by less leave no gap in it


class Played:
    """The last seconds of the speaker, silence where nothing sounded. Two threads: one
    puts, one looks. Times are monotonic seconds."""

    def __init__(self) -> None:
        self._lock = threading.Lock()
        self._size = round(KEPT_S * RATE_HZ)
        self._ring: Samples = np.zeros(self._size, np.int16)
        self._owners = np.full(self._size, -1, np.int64)  # which sample lies in each place
        self._end = 0

    def put(self, begin_s: float, samples: Samples, *, goes_on: bool = True) -> None:
        """These samples sounded from `begin_s` on. `goes_on`: as part of the sound before, where
        that ended about then; else another begins, however soon."""
        with self._lock:
            begin = round(begin_s * RATE_HZ)
            if goes_on and abs(begin - self._end) < JOINS_S * RATE_HZ:
                begin = self._end
            self._end = begin + len(samples)
            numbers = np.arange(begin, self._end)[-self._size :]
            self._ring[numbers % self._size] = samples[-self._size :]
            self._owners[numbers % self._size] = numbers

    def between(self, begin_s: float, count: int) -> Samples:
        """The `count` samples that sounded from `begin_s` on."""
        with self._lock:
            first = round(begin_s * RATE_HZ)
            numbers = np.arange(first, first + count)
            places = numbers % self._size
            return np.where(self._owners[places] == numbers, self._ring[places], np.int16(0))
