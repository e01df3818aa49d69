"""Nine kinds of noise for training, made from seeds; no recorded kitchen is among them.

Each maker gives (length,) floats at 16 kHz with a mean power of one.
"""

from collections.abc import Sequence

import numpy as np
import soxr

from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus import Wave, pink, unit
from tests.benchmarks.corpus_noise import slow
from tests.fitting.tune import music

Rng = np.random.Generator
TRACK_S, TRACKS = 40, 7
SHARES = {
    "pink": 1.0, "wind": 1.0, "motor": 1.0, "clatter": 1.3, "traffic": 0.7, "music": 0.8,
    "babble": 2.2, "deep": 0.7, "talker": 0.6,
}  # fmt: skip


def tracks(
    speech: Sequence[Samples], rng: Rng, each: int = TRACKS, only: str = ""
) -> dict[str, list[Wave]]:
    """`each` tracks (twice that of babble) of `TRACK_S` of every kind; `speech` babbles."""
    n = TRACK_S * RATE_HZ
    makers = {
        "pink": lambda: pink(n, rng, rng.uniform(0, 2)),
        "wind": lambda: wind(n, rng),
        "motor": lambda: motor(n, rng),
        "clatter": lambda: clatter(n, rng),
        "traffic": lambda: traffic(n, rng),
        "music": lambda: music(n, rng),
        "babble": lambda: babble(n, rng, speech, int(rng.integers(3, 8))),
        "deep": lambda: babble(n, rng, speech, int(rng.integers(1, 5)), (0.6, 0.8)),
        "talker": lambda: babble(n, rng, speech, 1),
    }
    return {
        kind: [make() for _ in range(2 * each if kind == "babble" else each)]  # type: ignore[no-untyped-call]
        for kind, make in makers.items()
        if not only or kind == only
    }


def wind(n: int, rng: Rng) -> Wave:
    """Low noise in gusts."""
    gusts = np.abs(slow(n, rng, rng.uniform(0.7, 3))) + 0.3
    return unit(pink(n, rng, rng.uniform(2, 3)) * gusts + 0.15 * pink(n, rng) * gusts)


def motor(n: int, rng: Rng) -> Wave:
    """A spit's motor with crackling coals and sizzling fat."""
    t, base = np.arange(n) / RATE_HZ, rng.uniform(45, 75)
    tones = (base, 2 * base, base * rng.uniform(2.5, 4), base * rng.uniform(5, 8))
    hum = sum(np.sin(2 * np.pi * f * t + rng.uniform(0, 6.3)) / k for k, f in enumerate(tones, 1))
    crackle = np.zeros(n)
    for at in rng.integers(0, max(1, n - 400), max(1, n // int(rng.integers(1500, 6000)))):
        decay = np.exp(-np.arange(200) / rng.uniform(12, 50)) * rng.exponential(2.0)
        crackle[at : at + 200] += (rng.standard_normal(200) * decay)[: n - at]
    sizzle = np.diff(rng.standard_normal(n + 1)) * (0.3 + np.abs(slow(n, rng, 3.0)))
    return unit(sum(unit(part) * rng.uniform(0.3, 1.2) for part in (hum, crackle, sizzle)))  # type: ignore[arg-type, misc]


def clatter(n: int, rng: Rng) -> Wave:
    """Plates, pans and cutlery: ringing strokes."""
    wave = 0.25 * pink(n, rng)
    count = max(2, int(n / RATE_HZ * rng.uniform(0.7, 4)))
    for at in rng.integers(0, max(1, n - 8000), count):
        length = int(rng.integers(800, 8000))
        t = np.arange(length) / RATE_HZ
        stroke = rng.standard_normal(length) * 0.7
        for _ in range(int(rng.integers(2, 7))):
            tone = np.sin(2 * np.pi * rng.uniform(600, 6500) * t + rng.uniform(0, 6))
            stroke += tone * rng.uniform(0.2, 1)
        stroke *= np.exp(-t / rng.uniform(0.01, 0.12)) * rng.exponential(1.5)
        wave[at : at + length] += stroke[: n - at]
    return unit(wave)


def traffic(n: int, rng: Rng) -> Wave:
    """Cars that pass, about one in five seconds."""
    wave, t = 0.2 * pink(n, rng, 1.5), np.arange(n) / RATE_HZ
    for _ in range(max(1, int(n / RATE_HZ / 5))):
        away = (t - rng.uniform(0, n / RATE_HZ)) / rng.uniform(0.8, 2.5)
        pitch = rng.uniform(30, 90) * (1 - 0.06 * np.tanh(away))
        phase = 2 * np.pi * np.cumsum(pitch) / RATE_HZ
        engine = sum(np.sin(k * phase) / k for k in range(1, 6))
        tyres = unit(pink(n, rng, rng.uniform(0.8, 1.8)))
        wave += rng.uniform(0.5, 1.5) * np.exp(-(away**2)) * (tyres + 0.5 * engine)
    return unit(wave)


def babble(
    n: int, rng: Rng, speech: Sequence[Samples], people: int,
    pace: tuple[float, float] = (1.0, 1.0),
) -> Wave:  # fmt: skip
    """`people` who talk at once; a `pace` under one makes them slow and deep."""
    wave = np.zeros(n)
    for _ in range(people):
        parts, length = [], 0
        while length < n:
            said = speech[int(rng.integers(len(speech)))].astype(np.float32)
            said = soxr.resample(said, RATE_HZ * rng.uniform(*pace), RATE_HZ)
            parts += [
                unit(said) * rng.uniform(0.6, 1.2),
                np.zeros(int(rng.uniform(0, 0.4) * RATE_HZ)),
            ]
            length += len(parts[-1]) + len(said)
        wave += np.roll(np.concatenate(parts)[:n], int(rng.integers(n)))
    return unit(wave)
