"""When samples passed, from stamps that a busy machine makes late."""

import pytest

from assistant.sound.timeline import HOLD_S, Timeline


def test_late_stamps_do_not_move_it() -> None:
    line = Timeline()
    for number in range(100):
        late_s = 0.2 if number % 7 else 0.0
        line.stamp(number * 0.1, 50.0 + number * 0.1 + late_s)
    assert line.at(10.0) == pytest.approx(60.0)


def test_a_clock_that_drifts_is_followed_and_jitter_is_not() -> None:
    line = Timeline()
    ratio = 1 + 100e-6
    for number in range(6000):
        line.stamp(number * 0.1, 50.0 + number * 0.1 * ratio + (number % 3) * 0.001)
    assert line.at(600.0) == pytest.approx(50.0 + 600.0 * ratio, abs=HOLD_S + 0.001)


def test_a_stream_that_lost_samples_is_found_again_within_the_window() -> None:
    line = Timeline()
    for number in range(100):
        line.stamp(number * 0.1, 50.0 + number * 0.1 + (0.5 if number >= 50 else 0.0))
    assert line.at(10.0) == pytest.approx(60.5)


def test_before_the_first_stamp_nothing_is_known() -> None:
    assert Timeline().at(1.0) is None
