"""What happens to speech on its way to the microphone, for training only."""

from collections.abc import Mapping, Sequence

import numpy as np
import soxr
from scipy.signal import fftconvolve

from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus import Wave, unit
from tests.fitting.noises import SHARES

Rng = np.random.Generator
Tracks = Mapping[str, Sequence[Wave]]
LOWEST_TALKER_DB = 5.0
"""One other talker is never so loud that nobody could tell who is meant."""


def changed(samples: Samples, rng: Rng) -> Wave:
    """Other speed and pitch (0.78 to 1.27) for most, the beginning cut off for a few."""
    wave = samples.astype(np.float32) / 32768
    if rng.random() < 0.75:
        wave = soxr.resample(wave, RATE_HZ * rng.uniform(0.78, 1.27), RATE_HZ)
    if rng.random() < 0.08:
        wave = wave[int(rng.uniform(0, 0.08) * RATE_HZ) :]
    return wave


def placed(wave: Wave, length: int, rng: Rng, noises: Tracks) -> Samples:
    """The speech somewhere within `length` samples, in noise 0 to 45 dB below it, with echo,
    equaliser, level and clipping as it happens."""
    out = np.zeros(length, np.float32)
    spare = length - len(wave)
    low, high = max(1, int(spare * 0.15)), max(2, int(spare * 0.75))
    at = int(rng.integers(low, high)) if spare > 2 else 0
    out[at : at + len(wave)] = wave[: length - at]
    if rng.random() < 0.3:
        out = _echoed(out, rng)  # type: ignore[arg-type, assignment]
    snr_db = _snr_db(rng)
    noise, lowest_db = _noise(length, rng, noises)
    level = np.sqrt(np.mean(wave**2)) + 1e-9
    heard = in_noise(out, noise, level, max(snr_db, lowest_db))  # type: ignore[arg-type]
    if rng.random() < 0.6:
        heard = _equalised(heard, rng)
    heard = heard / (np.abs(heard).max() + 1e-9) * rng.uniform(0.1, 1.0)
    if rng.random() < 0.05:
        heard = np.clip(heard * rng.uniform(1, 3), -0.98, 0.98)
    return np.clip(heard * 32000, -32768, 32767).astype(np.int16)


def in_noise(speech: Wave, noise: Wave, level: float, snr_db: float) -> Wave:
    """`speech`, whose spoken part has the root mean square `level`, plus the noise."""
    return speech + unit(noise) * level * 10 ** (-snr_db / 20)


def _snr_db(rng: Rng) -> float:
    if rng.random() < 0.15:
        return rng.uniform(25, 45)
    return rng.uniform(-3, 6) if rng.random() < 0.3 else rng.uniform(4, 24)


def _noise(length: int, rng: Rng, noises: Tracks) -> tuple[Wave, float]:
    """One stretch of noise or two mixed, and the lowest SNR fair for it."""
    noise, lowest_db = _stretch(length, rng, noises)
    if rng.random() < 0.35:
        other, other_db = _stretch(length, rng, noises)
        noise, lowest_db = noise + other * rng.uniform(0.2, 1), max(lowest_db, other_db)
    return noise, lowest_db


def _stretch(length: int, rng: Rng, noises: Tracks) -> tuple[Wave, float]:
    shares = np.array(list(SHARES.values()))
    kind = list(SHARES)[int(rng.choice(len(shares), p=shares / shares.sum()))]
    track = noises[kind][int(rng.integers(len(noises[kind])))]
    start = int(rng.integers(0, len(track) - length))
    return track[start : start + length], LOWEST_TALKER_DB if kind == "talker" else 0.0


def _equalised(wave: Wave, rng: Rng) -> Wave:
    """A microphone's tone: up to 9 dB either way; some telephones, some without bass."""
    hz = np.fft.rfftfreq(len(wave), 1 / RATE_HZ)
    points = np.cumsum(rng.uniform(-4, 4, 8))
    points = np.clip(points - points.mean(), -9, 9)
    gain_db = np.interp(np.log(hz + 50), np.log(np.geomspace(50, 8050, 8)), points)
    if rng.random() < 0.12:
        gain_db = np.where(hz > rng.uniform(3300, 5000), -60, gain_db)
    if rng.random() < 0.3:
        gain_db = gain_db - 24 * (hz < rng.uniform(60, 300))
    return np.fft.irfft(np.fft.rfft(wave) * 10 ** (gain_db / 20), len(wave))


def _echoed(wave: Wave, rng: Rng) -> Wave:
    """A room or yard of 0.12 to 0.7 s."""
    decay_s = rng.uniform(0.12, 0.7)
    t = np.arange(int(decay_s * RATE_HZ)) / RATE_HZ
    kernel = rng.standard_normal(len(t)) * np.exp(-6.9 * t / decay_s)
    kernel *= rng.uniform(0.15, 0.8) / np.sqrt(np.sum(kernel**2))
    kernel[0] = 1.0
    return fftconvolve(wave, kernel)[: len(wave)]
