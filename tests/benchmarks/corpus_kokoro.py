"""Voices of Kokoro-82M for benchmarks; the training (tests/fitting/kokoro.py) leaves most out."""

import random
from functools import cache

from assistant.sound.files import to_samples
from assistant.sound.samples import Samples
from tests.fitting.kokoro import RATE_HZ, Kokoro, spelt


def say_kept(words: str, voice: str) -> Samples:
    """16 kHz, at a pace that depends on the words."""
    (sounds,) = spelt([words], "en-gb" if voice[0] == "b" else "en-us")
    pace = random.Random(words).uniform(0.9, 1.2)
    return to_samples(_model().say(sounds, _model().voices[voice], pace), RATE_HZ)


@cache
def _model() -> Kokoro:
    return Kokoro()
