"""Invented music for training: chords, a bass, a tune and a beat, from a seed."""

import numpy as np

from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus import Wave, unit

_MAJOR, _MINOR = (0, 2, 4, 5, 7, 9, 11, 12), (0, 2, 3, 5, 7, 8, 10, 12)


def music(n: int, rng: np.random.Generator) -> Wave:
    """(n,) floats at 16 kHz, mean power one."""
    beat_s, wave, root = 60 / rng.uniform(70, 150), np.zeros(n), rng.uniform(90, 180)
    scale = _MAJOR if rng.random() < 0.6 else _MINOR
    dullness = rng.uniform(0.8, 2)
    for beat in range(int(np.ceil(n / RATE_HZ / beat_s))):
        at, chord = beat * beat_s, int(rng.choice([0, 3, 4, 5]))
        for third in (0, 2, 4):
            hz = root * 2 * 2 ** (scale[(chord + third) % 7] / 12)
            _note(wave, hz, at, beat_s * 2, 0.25, dullness)
        _note(wave, root * 2 ** (scale[chord % 7] / 12) / 2, at, beat_s, 0.6, 1.0)
        for half in range(4):
            if rng.random() < 0.7:
                hz = root * 4 * 2 ** (scale[int(rng.integers(0, 8))] / 12)
                _note(wave, hz, at + half * beat_s / 2, beat_s * 0.6, 0.35, dullness)
        _drum(wave, int(at * RATE_HZ), rng, is_snare=beat % 2 == 1)
    return unit(wave)


def _note(
    wave: Wave, hz: float, at_s: float, length_s: float, loud: float, dullness: float
) -> None:
    start = int(at_s * RATE_HZ)
    t = np.arange(max(0, min(int(length_s * RATE_HZ), len(wave) - start))) / RATE_HZ
    tone = sum(np.sin(2 * np.pi * hz * k * t) / k**dullness for k in range(1, 7))
    wave[start : start + len(t)] += loud * np.exp(-t / (length_s * 0.5)) * tone


def _drum(wave: Wave, start: int, rng: np.random.Generator, *, is_snare: bool) -> None:
    k = np.arange(max(0, min(3000, len(wave) - start)))
    snare = rng.standard_normal(len(k)) * 0.6 * np.exp(-k / 300)
    bass = np.sin(2 * np.pi * 60 * k / RATE_HZ) * np.exp(-k / 700)
    wave[start : start + len(k)] += snare if is_snare else bass
