"""The linear part of echo cancellation: a partitioned frequency-domain Kalman filter.

After Enzner and Vary, "Frequency-domain adaptive Kalman filter for acoustic echo control in
hands-free telephones" (Signal Processing 86, 2006): the step follows from how uncertain the
filter is and how loud everything else is, so it needs no detector of double talk. What
the cook says comes through untouched; some of the own voice remains.
"""

import numpy as np
from numpy.typing import NDArray

from assistant.sound.samples import Samples

Wave = NDArray[np.float64]
BLOCK = 160  # samples: one frame, 10 ms
PARTS = 25  # of them: a quarter second of delay and room
FORGETS = 0.995  # quick enough for clocks that drift by 100 parts in a million
SMOOTH = 0.2
LEAST = 1e-4  # of a weight's square, that it may have changed: the way there was mute, and is not


class EchoFilter:
    """One stream, a frame of `BLOCK` samples at a time."""

    def __init__(self) -> None:
        bins = BLOCK + 1
        self._far = np.zeros((PARTS, bins), complex)
        self._weights = np.zeros((PARTS, bins), complex)
        self._doubt = np.ones((PARTS, bins))
        self._rest = np.full(bins, 1e3)
        self._before = np.zeros(BLOCK)

    def process(self, near: Samples, far: Samples) -> Samples:
        """What is left of `near`."""
        done = [
            self._step(near[at : at + BLOCK].astype(float), far[at : at + BLOCK].astype(float))
            for at in range(0, len(near), BLOCK)
        ]
        return np.clip(np.round(np.concatenate(done)), -32768, 32767).astype(np.int16)

    def _step(self, near: Wave, far: Wave) -> Wave:
        self._far = np.roll(self._far, 1, axis=0)
        self._far[0] = np.fft.rfft(np.concatenate([self._before, far]))
        self._before = far
        if not self._far.any():  # nothing to learn from, and nothing to forget
            return near
        left = near - np.fft.irfft((self._weights * self._far).sum(0))[BLOCK:]
        error = np.fft.rfft(np.concatenate([np.zeros(BLOCK), left]))
        power = np.abs(self._far) ** 2
        self._rest += SMOOTH * (np.abs(error) ** 2 - self._rest)
        gain = self._doubt / (0.5 * (self._doubt * power).sum(0) + self._rest + 1e-3)
        taps = np.fft.irfft(self._weights + gain * np.conj(self._far) * error, axis=1)
        taps[:, BLOCK:] = 0.0
        self._weights = np.fft.rfft(taps, axis=1)
        keep = FORGETS**2
        change = np.maximum(np.abs(self._weights) ** 2, LEAST)
        self._doubt = keep * (1 - 0.5 * gain * power) * self._doubt + (1 - keep) * change
        return left
