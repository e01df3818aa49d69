"""Music from a loudspeaker in the yard: a seeded tune of drums, bass, chords and a lead."""

from collections.abc import Iterator

import numpy as np

from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus import Wave, unit

_PROGRESSIONS = ((0, 5, 7, 5), (0, 9, 5, 7), (9, 5, 0, 7), (2, 7, 0, 9))
"""Roots of the bars in semitones above the key."""
_MINOR = frozenset((2, 4, 9))
_PENTATONIC = (0, 2, 4, 7, 9, 12, 14)
_LEVELS = {"drums": 1.0, "bass": 0.8, "chords": 0.6, "lead": 0.8}


def music(length: int, rng: np.random.Generator) -> Wave:
    """A tune in 4/4 from somewhere in its middle, `length` samples of unit power."""
    beat = int(60.0 / rng.uniform(85.0, 135.0) * RATE_HZ)
    key, roots = float(rng.integers(45, 57)), _PROGRESSIONS[int(rng.integers(len(_PROGRESSIONS)))]
    bars = length // (4 * beat) + 2
    tracks = {name: np.zeros(bars * 4 * beat + 4 * beat) for name in _LEVELS}
    for bar in range(bars):
        root = key + roots[bar % len(roots)]
        start = bar * 4 * beat
        for name, place, sound in _bar(root, key, roots[bar % len(roots)] in _MINOR, beat, rng):
            tracks[name][start + place : start + place + len(sound)] += sound
    begin = int(rng.integers(4 * beat))
    whole = sum(level * unit(tracks[name]) for name, level in _LEVELS.items())
    return unit(whole[begin : begin + length])  # type: ignore[index]


def _bar(
    root: float, key: float, minor: bool, beat: int, rng: np.random.Generator
) -> Iterator[tuple[str, int, Wave]]:
    """The sounds of one bar as (track, sample within the bar, wave)."""
    for n in range(4):
        yield "drums", n * beat, _snare(rng) if n % 2 else _kick()
        for half in (0, beat // 2):
            yield "drums", n * beat + half, 0.25 * _hat(rng)
            yield "bass", n * beat + half, _note(root - 12, beat // 2, 6, 4.0)
    for third in (0, 3 if minor else 4, 7):
        yield "chords", 0, _note(root + 12 + third, 4 * beat, 8, 0.8)
    place = 0
    while place < 4 * beat:
        held = int(beat * rng.choice([0.5, 0.5, 1.0, 1.5]))
        if rng.random() < 0.85:
            pitch = key + 12 + _PENTATONIC[int(rng.integers(len(_PENTATONIC)))]
            yield "lead", place, _note(pitch, held, 10, 2.5)
        place += held


def _note(pitch: float, length: int, harmonics: int, decay: float) -> Wave:
    """A plucked string at a MIDI pitch; higher harmonics die sooner."""
    t = np.arange(length) / RATE_HZ
    hz = 440.0 * 2 ** ((pitch - 69) / 12)
    wave = np.zeros(length)
    for n in range(1, harmonics + 1):
        if n * hz < RATE_HZ / 2:
            wave += np.sin(2 * np.pi * n * hz * t) / n * np.exp(-decay * n**0.5 * t)
    return wave * np.minimum(1.0, np.arange(length)[::-1] / 200)


def _kick() -> Wave:
    t = np.arange(int(0.2 * RATE_HZ)) / RATE_HZ
    return 2.0 * np.sin(2 * np.pi * (50 * t - 60 / 25 * np.exp(-25 * t))) * np.exp(-14 * t)


def _snare(rng: np.random.Generator) -> Wave:
    t = np.arange(int(0.18 * RATE_HZ)) / RATE_HZ
    return (rng.standard_normal(len(t)) + np.sin(2 * np.pi * 190 * t)) * np.exp(-20 * t)


def _hat(rng: np.random.Generator) -> Wave:
    t = np.arange(int(0.05 * RATE_HZ)) / RATE_HZ
    return np.diff(rng.standard_normal(len(t) + 1)) * np.exp(-70 * t)
