"""Tones are short, never harsh, and told apart."""

from itertools import combinations
from typing import get_args

import numpy as np
import pytest

from assistant.voice.speech import Tone
from assistant.voice.tones import tone_sound

TONES: tuple[Tone, ...] = get_args(Tone)


def melody(tone: Tone) -> tuple[tuple[int, ...], int]:
    """The strongest frequency of each 50 ms, in hertz, and the length."""
    sound = tone_sound(tone)
    step = sound.rate_hz // 20
    pieces = [sound.samples[at : at + step] for at in range(0, len(sound.samples) - step, step)]
    peaks = [int(np.argmax(np.abs(np.fft.rfft(p * np.hanning(step)))) * 20) for p in pieces]
    return tuple(peaks), len(sound.samples)


@pytest.mark.parametrize("tone", TONES)
def test_a_tone_is_short_fades_at_both_ends_and_does_not_clip(tone: Tone) -> None:
    sound = tone_sound(tone)
    assert 0.05 < sound.duration_s < 0.7
    assert abs(int(sound.samples[0])) < 200
    assert abs(int(sound.samples[-1])) < 200
    assert 1000 < np.abs(sound.samples.astype(int)).max() < 30_000


@pytest.mark.parametrize(("one", "other"), list(combinations(TONES, 2)))
def test_any_two_tones_have_different_melodies(one: Tone, other: Tone) -> None:
    assert melody(one)[0] != melody(other)[0]


def test_the_tone_for_heard_is_soft_and_leaves_room_for_the_words() -> None:
    assert tone_sound("heard").duration_s <= 0.1
    loudest = {tone: np.abs(tone_sound(tone).samples.astype(int)).max() for tone in TONES}
    assert loudest["heard"] < loudest["soon"] < loudest["now"]
