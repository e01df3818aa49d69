"""A device's stream at the recognisers' rate: at once, and as it was."""

import numpy as np
import pytest

from assistant.sound.converter import Converter
from assistant.sound.samples import RATE_HZ


def sine(rate_hz: int, tone_hz: float) -> np.ndarray:
    return (10_000 * np.sin(2 * np.pi * tone_hz * np.arange(rate_hz) / rate_hz)).astype("<i2")


def converted(sound: np.ndarray, rate_hz: int) -> list[np.ndarray]:
    convert, step = Converter(rate_hz, 1), rate_hz // 100
    return [convert(sound[at : at + step].tobytes()) for at in range(0, len(sound), step)]


@pytest.mark.parametrize("rate_hz", [32_000, 44_100, 48_000, 96_000])
def test_ten_milliseconds_in_are_ten_milliseconds_out(rate_hz: int) -> None:
    """What was played must be told before it has sounded, and the tone waits for a block."""
    sizes = [len(block) for block in converted(sine(rate_hz, 440), rate_hz)]
    assert set(sizes[1:]) == {160}
    assert sizes[0] > 160 - 0.002 * RATE_HZ


@pytest.mark.parametrize("rate_hz", [22_050, 32_000, 44_100, 48_000, 96_000])
@pytest.mark.parametrize("tone_hz", [300, 3000, 6800])
def test_speech_passes_as_it_was_and_in_time(rate_hz: int, tone_hz: float) -> None:
    made = np.concatenate(converted(sine(rate_hz, tone_hz), rate_hz)).astype(float)
    wanted = 10_000 * np.sin(2 * np.pi * tone_hz * np.arange(len(made)) / RATE_HZ)
    assert np.abs(made - wanted)[200:-200].max() < 30


@pytest.mark.parametrize("rate_hz", [32_000, 44_100, 48_000])
def test_what_would_fold_back_is_taken_out(rate_hz: int) -> None:
    made = np.concatenate(converted(sine(rate_hz, 9500), rate_hz)).astype(float)
    assert np.abs(made[200:-200]).max() < 30
