"""The noises of the place, all seeded and of unit power, and speech mixed with them.

What people say in them (corpus_bystanders.py) is never tested as speech or as talk.
"""

from collections.abc import Callable
from functools import cache

import numpy as np
import soxr

from assistant.ears.endpointer import spoken_span
from assistant.sound.files import read_sound
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus import RECORDINGS, Wave, clipped, pink, say, unit, voices
from tests.benchmarks.corpus_bystanders import CHILDREN, GUESTS
from tests.benchmarks.corpus_music import music


def wind(length: int, rng: np.random.Generator) -> Wave:
    """Gusts: steep low-frequency noise whose strength wanders over seconds."""
    gusts = np.abs(slow(length, rng, 1.5)) + 0.3
    return unit(pink(length, rng, 2.5) * gusts + 0.15 * pink(length, rng) * gusts)


def grill(length: int, rng: np.random.Generator) -> Wave:
    """The spit's motor (mains hum and gear whine), crackling charcoal, sizzling fat."""
    t = np.arange(length) / RATE_HZ
    hum = sum(
        np.sin(2 * np.pi * f * t + rng.uniform(0, 6.3)) / n
        for n, f in enumerate((60, 120, 187, 374), 1)
    )
    crackle = np.zeros(length)
    for place in rng.integers(0, max(1, length - 400), max(1, length // 2500)):
        burst = rng.standard_normal(200) * np.exp(-np.arange(200) / 25) * rng.exponential(2.0)
        crackle[place : place + 200] += burst[: length - place]
    sizzle = np.diff(rng.standard_normal(length + 1)) * (0.3 + np.abs(slow(length, rng, 3.0)))
    return unit(unit(hum) + unit(crackle) + 0.8 * unit(sizzle))  # type: ignore[arg-type]


def traffic(length: int, rng: np.random.Generator) -> Wave:
    """A road nearby: cars pass every few seconds over a far rumble."""
    cars = max(2, round(length / RATE_HZ / 3.0))
    passing = sum(_car(length, rng) for _ in range(cars))
    return unit(passing + 0.15 * pink(length, rng, 2.0))


def _car(length: int, rng: np.random.Generator) -> Wave:
    """One car: tyre noise around a kilohertz and an engine's harmonics, swelling as it
    comes near, the pitch falling as it goes by."""
    t = np.arange(length) / RATE_HZ
    speed, nearest = rng.uniform(8.0, 20.0), rng.uniform(5.0, 15.0)  # m/s, m
    along = speed * (t - rng.uniform(t[0], t[-1]))
    distance = np.hypot(along, nearest)
    doppler = 1.0 - speed / 343.0 * along / distance
    turns = np.cumsum(doppler) / RATE_HZ * rng.uniform(28.0, 60.0)
    engine = sum(np.sin(2 * np.pi * n * turns + rng.uniform(0, 6.3)) / n**0.8 for n in range(1, 13))
    spectrum = np.fft.rfft(rng.standard_normal(length))
    hz = np.fft.rfftfreq(length, 1 / RATE_HZ)
    tyres = np.fft.irfft(spectrum / (1.0 + ((hz - 900.0) / 600.0) ** 2), length)
    return (unit(tyres) + 0.6 * unit(engine)) * nearest / distance * rng.uniform(0.5, 1.0)


def babble(length: int, rng: np.random.Generator) -> Wave:
    """Six guests talking at once."""
    return unit(sum(np.roll(_guest(length, rng, n), rng.integers(length)) for n in range(6)))  # type: ignore[arg-type]


def talker(length: int, rng: np.random.Generator) -> Wave:
    """One guest who talks behind the cook: duller than from the front."""
    speech = _guest(length, rng, int(rng.integers(len(_speakers()))))
    spectrum, hz = np.fft.rfft(speech), np.fft.rfftfreq(length, 1 / RATE_HZ)
    return unit(np.fft.irfft(spectrum / np.sqrt(1.0 + (hz / 2500.0) ** 2), length))


def children(length: int, rng: np.random.Generator) -> Wave:
    """Three children at play, near and far: shouts, and squeals between them."""
    wave = np.zeros(length)
    for n in range(3):
        parts: list[Wave] = []
        while sum(map(len, parts)) < length:
            gap = np.zeros(int(rng.uniform(0.05, 0.5) * RATE_HZ))
            part = _squeal(rng) if rng.random() < 0.2 else _child(rng, n)
            parts += [part * rng.uniform(0.3, 1.0), gap]
        wave += np.concatenate(parts)[:length]
    return unit(wave)


def _child(rng: np.random.Generator, n: int) -> Wave:
    """A sentence in a grown-up's voice, raised by a third to two thirds and hurried."""
    said = CHILDREN[int(rng.integers(len(CHILDREN) // 3)) * 3 + n]
    raised = rng.uniform(1.35, 1.65)
    return soxr.resample(
        _said(said, _speakers()[2 * n % len(_speakers())]), RATE_HZ * raised, RATE_HZ
    )


def _squeal(rng: np.random.Generator) -> Wave:
    """A glide between 700 and 1,600 Hz with a few harmonics and a tremble."""
    length = int(rng.uniform(0.25, 0.7) * RATE_HZ)
    t = np.linspace(0.0, 1.0, length)
    hz = np.interp(t, [0.0, 0.5, 1.0], rng.uniform(700.0, 1600.0, 3)) * (
        1 + 0.02 * np.sin(2 * np.pi * 6 * t)
    )
    turns = np.cumsum(hz) / RATE_HZ
    wave = sum(np.sin(2 * np.pi * n * turns) / n**1.5 for n in range(1, 5))
    return unit(wave * np.sin(np.pi * t) ** 0.5)


@cache
def _speakers() -> tuple[str, ...]:
    """The voices of the bystanders, as far as they are installed."""
    return voices(("slt", "rms", "awb", "kal16", "festival-slt", "joe"))


def _guest(length: int, rng: np.random.Generator, n: int) -> Wave:
    """A guest's sentences one after the other, each guest in a voice and with subjects
    of their own."""
    speakers = _speakers()
    n %= len(speakers)
    own, parts = GUESTS[n :: len(speakers)], list[Wave]()
    while sum(map(len, parts)) < length:
        parts.append(_said(own[int(rng.integers(len(own)))], speakers[n]))
    return np.concatenate(parts)[:length]


@cache
def _said(words: str, voice: str) -> Wave:
    samples = say(words, voice)
    return unit(samples[spoken_span(samples, margin_s=0.1)].astype(float))


def kitchen(length: int, rng: np.random.Generator) -> Wave:
    """A stretch of the recorded kitchen."""
    recorded = _kitchen_recording()
    start = int(rng.integers(0, max(1, len(recorded) - length)))
    return unit(np.resize(recorded[start : start + length], length))


@cache
def _kitchen_recording() -> Wave:
    return read_sound(RECORDINGS / "noise" / "kitchen_0s.wav").astype(float)


def slow(length: int, rng: np.random.Generator, hz: float) -> Wave:
    """A random wave that changes a few times a second."""
    points = rng.standard_normal(int(length / RATE_HZ * hz) + 3)
    return np.interp(np.linspace(0, len(points) - 1, length), np.arange(len(points)), points)


_MAKERS: dict[str, Callable[[int, np.random.Generator], Wave]] = {
    "kitchen": kitchen, "babble": babble, "wind": wind, "grill": grill, "traffic": traffic,
    "children": children, "music": music, "talker": talker, "pink": pink,
}  # fmt: skip
NOISES = tuple(_MAKERS)
"""A corpus in noise goes through all of them in turn."""


def noise(name: str, length: int, seed: int) -> Wave:
    """One of the noises, `length` samples of unit power."""
    return _MAKERS[name](length, np.random.default_rng(seed))


def mixed(samples: Samples, noise: str, snr_db: float, seed: int) -> Samples:
    """Speech in noise. The ratio is taken over the spoken span, not over silence."""
    speech = samples.astype(float)
    power = np.sqrt(np.mean(speech[spoken_span(samples, margin_s=0.0)] ** 2))
    made = _MAKERS[noise](len(speech), np.random.default_rng(seed))
    return clipped(speech + made * power * 10 ** (-snr_db / 20))


def echoed(samples: Samples, seed: int, reverberation_s: float = 0.35) -> Samples:
    """Speech in a hard-walled yard: direct sound and an exponentially decaying tail."""
    rng = np.random.default_rng(seed)
    t = np.arange(int(reverberation_s * RATE_HZ)) / RATE_HZ
    tail = rng.standard_normal(len(t)) * np.exp(-6.9 * t / reverberation_s)
    tail *= 0.5 / np.sqrt(np.sum(tail**2))
    tail[0] = 1.0
    return clipped(np.convolve(samples.astype(float), tail)[: len(samples)])
