"""A device's stream made mono at the recognisers' rate, block by block and without delay.

A windowed-sinc filter in as many phases as the two rates need (Crochiere and Rabiner, Multirate
Digital Signal Processing, 1983). Ready-made resamplers work in blocks of their own, here some
36 ms: the tone would wait for that, and what is played would be told after it has sounded.
"""

import math

import numpy as np
from numpy.typing import NDArray

from assistant.sound.samples import RATE_HZ, Samples

PASS_HZ = 7000.0  # flat up to here
ATTENUATION_DB = 60.0  # of what would fold back below that
_KAISER_BETA = 5.65  # for 60 dB (Kaiser 1974)


class Converter:
    """One stream of interleaved 16-bit device samples; `rate_hz` is the device's."""

    def __init__(self, rate_hz: int, channels: int) -> None:
        self._channels = channels
        common = math.gcd(rate_hz, RATE_HZ)
        self._phases, self._step = RATE_HZ // common, rate_hz // common
        self._bank = _bank(rate_hz, self._phases) if rate_hz != RATE_HZ else None
        taps = self._bank.shape[1] if self._bank is not None else 1
        self._kept = np.zeros(taps // 2 - 1 + taps % 2, np.float32)
        self._place = 0  # of the next sample in what is kept, in phases

    def __call__(self, raw: bytes) -> Samples:
        """16-bit little-endian interleaved samples to mono samples: all that can be made of
        them but for the last half of the filter, 1.2 ms."""
        samples = np.frombuffer(raw, dtype="<i2").reshape(-1, self._channels)
        if self._bank is None:
            mono: Samples = np.round(samples.mean(axis=1)).astype(np.int16)
            return mono
        wave = np.concatenate([self._kept, samples.mean(axis=1, dtype=np.float32)])
        taps = self._bank.shape[1]
        end = (len(wave) - taps + 1) * self._phases  # places before it have all their samples
        places = np.arange(self._place, max(end, self._place), self._step)
        first, phase = np.divmod(places, self._phases)
        made = np.zeros(0)
        if len(places):
            windows = np.lib.stride_tricks.sliding_window_view(wave, taps)[first]
            made = np.einsum("ij,ij->i", windows, self._bank[phase])
            self._place = int(places[-1]) + self._step
        spent = min(self._place // self._phases, len(wave))
        self._kept, self._place = wave[spent:], self._place - spent * self._phases
        return np.clip(np.round(made), -32768, 32767).astype(np.int16)


def _bank(rate_hz: int, phases: int) -> NDArray[np.float32]:
    """The filter, one row a phase: weights of the samples around a place between two of them."""
    half_hz = min(rate_hz, RATE_HZ) / 2
    pass_hz = min(PASS_HZ, 0.875 * half_hz)
    width = 2 * math.pi * 2 * (half_hz - pass_hz) / rate_hz
    half = math.ceil((ATTENUATION_DB - 8) / (2.285 * width) / 2)
    at = np.arange(-half + 1, half + 1) - np.arange(phases)[:, None] / phases
    window = np.i0(_KAISER_BETA * np.sqrt(np.maximum(0.0, 1 - (at / half) ** 2)))
    weights = np.sinc(2 * half_hz / rate_hz * at) * window
    bank: NDArray[np.float32] = (weights / weights.sum(axis=1, keepdims=True)).astype(np.float32)
    return bank
