"""Where speech begins and ends in a recording."""

import numpy as np
import pytest

from assistant.ears.endpointer import CHUNK, spoken_span
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus_noise import mixed
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = needs_voice


def quiet(seconds: float) -> Samples:
    rng = np.random.default_rng(3)
    return (8 * rng.standard_normal(int(seconds * RATE_HZ))).astype(np.int16)


def test_the_span_of_a_file_runs_from_the_first_word_to_the_last() -> None:
    said = say("bird one is on")
    inner = spoken_span(said, margin_s=0.0)
    sound = np.concatenate([quiet(2.0), said, quiet(2.0)])
    span = spoken_span(sound, margin_s=0.0)
    assert span.start == pytest.approx(inner.start + 2 * RATE_HZ, abs=3 * CHUNK)
    assert span.stop == pytest.approx(inner.stop + 2 * RATE_HZ, abs=3 * CHUNK)


@pytest.mark.parametrize("noise", ["wind", "grill", "pink"])
def test_noise_hides_neither_end_of_the_speech(noise: str) -> None:
    said = say("probe reads one forty five on bird two")
    clean, noisy = spoken_span(said), spoken_span(mixed(said, noise, 10.0, seed=5))
    assert abs(noisy.start - clean.start) < 0.3 * RATE_HZ
    assert abs(noisy.stop - clean.stop) < 0.3 * RATE_HZ


@pytest.mark.parametrize("seconds", [0.0, 0.01, 2.0])
def test_nobody_speaks_in_silence(seconds: float) -> None:
    span = spoken_span(quiet(seconds))
    assert span.start == span.stop
