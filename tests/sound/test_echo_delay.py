"""How late the own voice comes back, found from the sound alone."""

import numpy as np
import pytest

from assistant.sound.canceller import EchoFree, both
from assistant.sound.echo_delay import EchoDelay
from assistant.sound.microphone import Block
from assistant.sound.played import Played
from assistant.sound.samples import RATE_HZ

BLOCK = 480


def voice_like(seconds: float, seed: int) -> np.ndarray:
    """Noise of a voice's slope, swelling four times a second."""
    rng = np.random.default_rng(seed)
    length = round(seconds * RATE_HZ)
    spectrum = np.fft.rfft(rng.standard_normal(length))
    wave = np.fft.irfft(spectrum / np.maximum(np.arange(len(spectrum)) / seconds, 200.0), length)
    swell = 0.6 + 0.4 * np.sin(2 * np.pi * 4 * np.arange(length) / RATE_HZ)
    return wave / np.std(wave) * swell


def found(late_s: float, other: float) -> EchoDelay:
    """After three seconds of its own voice, so late, with another voice so loud beside it."""
    far = (2000 * voice_like(3.0, 1)).astype(np.int16)
    near = np.roll(far.astype(float), round(late_s * RATE_HZ)) + 2000 * other * voice_like(3.0, 2)
    played = Played()
    delay = EchoDelay(played)
    for at in range(0, len(far) - BLOCK, BLOCK):
        end_s = 50.0 + (at + BLOCK) / RATE_HZ
        played.put(end_s - BLOCK / RATE_HZ, far[at : at + BLOCK])
        delay.heard(near[at : at + BLOCK].astype(np.int16), end_s)
    return delay


@pytest.mark.parametrize("late_s", [-0.02, 0.005, 0.09, 0.4])
@pytest.mark.parametrize("other", [0.0, 1.0])
def test_any_delay_is_found_also_while_somebody_speaks_as_loud(late_s: float, other: float) -> None:
    assert found(late_s, other).seconds == pytest.approx(late_s, abs=0.001)


def test_where_nothing_of_its_own_comes_back_none_is_made_up() -> None:
    played = Played()
    delay = EchoDelay(played)
    far, near = voice_like(3.0, 1), voice_like(3.0, 2)
    for at in range(0, len(far) - BLOCK, BLOCK):
        end_s = 50.0 + (at + BLOCK) / RATE_HZ
        played.put(end_s - BLOCK / RATE_HZ, (2000 * far[at : at + BLOCK]).astype(np.int16))
        delay.heard((2000 * near[at : at + BLOCK]).astype(np.int16), end_s)
    assert delay.seconds == 0.0


def test_after_minutes_of_silence_and_told_late_it_still_takes_its_voice_out() -> None:
    """The filter must not fall asleep, and blocks told 25 ms after they sounded leave no holes
    once the delay of the room behind them is known."""
    silent_s, late = 90, round(0.1 * RATE_HZ)
    far = np.concatenate([np.zeros(silent_s * RATE_HZ), 2000 * voice_like(5.0, 1)])
    near = np.roll(far, late) + np.random.default_rng(3).standard_normal(len(far)) * 20
    played = Played()
    free = EchoFree(both(), played)
    told = list[tuple[float, float, np.ndarray]]()
    left = []
    for at in range(0, len(far) - BLOCK, BLOCK):
        end_s = 50.0 + (at + BLOCK) / RATE_HZ
        told.append((end_s + 0.025, end_s - BLOCK / RATE_HZ, far[at : at + BLOCK]))
        while told and told[0][0] <= end_s:
            _, begin_s, samples = told.pop(0)
            played.put(begin_s, samples.astype(np.int16))
        left.append(free(Block(near[at : at + BLOCK].astype(np.int16), end_s)).samples)
    last = slice((silent_s + 3) * RATE_HZ, (silent_s + 4) * RATE_HZ)
    before, after = near[last], np.concatenate(left)[last].astype(float)
    assert 10 * np.log10(np.mean(before**2) / np.mean(after**2)) > 15
    assert free.is_ready
