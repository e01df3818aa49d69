"""Noise suppression: less noise, the same length, speech kept."""

import numpy as np
import pytest

from assistant.ears.endpointer import spoken_span
from assistant.ears.sphinx.denoise import LAG_S, SETTLE_S, Ahead, available, denoised
from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus_noise import mixed
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = [
    pytest.mark.skipif(not available(), reason="needs pyrnnoise"),
    needs_voice,
]


def level(samples: np.ndarray) -> float:
    return float(np.sqrt(np.mean(samples.astype(float) ** 2)))


def test_noise_between_words_falls_far_more_than_speech() -> None:
    said = say("bird two reads one thirty")
    noisy = mixed(said, "pink", 10.0, seed=1)
    clean = denoised(noisy)
    speech, silence = spoken_span(said, margin_s=0.0), slice(0, RATE_HZ // 3)
    assert level(clean[silence]) < 0.25 * level(noisy[silence])
    assert level(clean[speech]) > 0.6 * level(said[speech])


@pytest.mark.parametrize("length", [0, 1, 479, 480, 16000, 16001])
def test_the_length_stays(length: int) -> None:
    assert len(denoised(np.zeros(length, np.int16))) == length


def test_words_stay_where_they_were() -> None:
    said = say("scratch that")
    a, b = said.astype(float), denoised(said).astype(float)
    lag = int(np.argmax(np.correlate(b, a[2000:-2000], mode="valid"))) - 2000
    assert abs(lag) < 0.02 * RATE_HZ


@pytest.mark.parametrize("piece", [160, 512, 4000])
def test_cleaning_ahead_gives_what_cleaning_at_once_gives(piece: int) -> None:
    noisy = mixed(say("bird two reads one thirty"), "pink", 10.0, seed=1)
    ahead = Ahead(noisy[: int(SETTLE_S * RATE_HZ)])
    for end in range(int(SETTLE_S * RATE_HZ), len(noisy), piece):
        ahead.cleaned(noisy[:end])
    streamed, at_once = ahead.cleaned(noisy), denoised(noisy)
    assert len(noisy) - len(streamed) <= LAG_S * RATE_HZ
    assert level(streamed - at_once[: len(streamed)]) < 0.01 * level(at_once)


def test_another_utterance_is_known_from_the_same_one_longer_or_shorter() -> None:
    noisy = mixed(say("bird two reads one thirty"), "pink", 10.0, seed=1)
    ahead = Ahead(noisy)
    ahead.cleaned(noisy[:20000])
    assert ahead.goes_with(noisy)
    assert ahead.goes_with(noisy[:18000])
    assert not ahead.goes_with(noisy[1:])
    assert len(ahead.cleaned(noisy[:18000])) == 18000
