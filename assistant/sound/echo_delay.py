"""How long after its time the program's own voice reaches the microphone.

What a sound system tells of its buffers is off by up to some tenths of a second, and by
another amount every time it has run dry. Cross-correlation with the phase transform (Knapp and
Carter, "The generalized correlation method for estimation of time delay", IEEE Trans. ASSP 24,
1976) finds it from the sound. Known, it also spares what takes the voice out from waiting for
what was played to be told: that takes a busy machine as long as the buffers are deep.
"""

import numpy as np

from assistant.sound.played import Played
from assistant.sound.samples import RATE_HZ, Samples

LOOK_S = 0.6  # of the microphone, each time
EVERY_S = 0.15
AGO_S = 0.15  # by then all that was played is told
EARLIEST_S, LATEST_S = -0.03, 0.5
SURE = 0.1  # of the correlation, where one would be the same sound
SAME_S = 0.001
FOUND, CHANGED = 2, 3  # looks in a row that must find the same: at first, and ever after
SOUNDS = 1e4  # mean square of what was played


class EchoDelay:
    """One microphone's. `seconds` is nought until it was found."""

    def __init__(self, played: Played) -> None:
        self.seconds = 0.0
        self._played = played
        self._near: Samples = np.zeros(0, np.int16)
        self._last_s: float | None = None
        self._same = 0  # looks in a row
        self._is_found = False
        self._next_s = 0.0

    def heard(self, near: Samples, end_s: float) -> None:
        """More of the microphone, up to `end_s`."""
        kept = round((LOOK_S + AGO_S) * RATE_HZ)
        self._near = np.concatenate([self._near, near])[-kept:]
        if len(self._near) == kept and end_s >= self._next_s:
            self._next_s = end_s + EVERY_S
            self._look(end_s - kept / RATE_HZ)

    def _look(self, begin_s: float) -> None:
        count = round(LOOK_S * RATE_HZ)
        before, after = round(LATEST_S * RATE_HZ), round(-EARLIEST_S * RATE_HZ)
        far = self._played.between(begin_s - LATEST_S, before + count + after).astype(float)
        if np.mean(far**2) < SOUNDS:
            return
        found, peak = _lag(self._near[:count].astype(float), far, before + after)
        lag_s = LATEST_S - found / RATE_HZ
        if peak < SURE:
            return
        is_same = self._last_s is not None and abs(lag_s - self._last_s) < SAME_S
        self._same = self._same + 1 if is_same else 1
        self._last_s = lag_s
        if self._same < (CHANGED if self._is_found else FOUND):
            return
        self._is_found = True
        if abs(lag_s - self.seconds) > SAME_S:
            self.seconds = lag_s


def _lag(near: np.ndarray, far: np.ndarray, most: int) -> tuple[int, float]:
    """Where in `far` the sound of `near` begins, 0 to `most`, and how surely, 0 to 1."""
    size = 1 << (len(near) + len(far)).bit_length()
    cross = np.fft.rfft(far, size) * np.conj(np.fft.rfft(near, size))
    alike = np.fft.irfft(cross / (np.abs(cross) + 1e-3), size)[: most + 1]
    best = int(np.argmax(alike))
    return best, float(alike[best])
