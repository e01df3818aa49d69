"""What was played, looked up by when."""

import numpy as np

from assistant.sound.output_child import BLOCK_S, PLACE, PULSE
from assistant.sound.played import KEPT_S, Played
from assistant.sound.player import Report
from assistant.sound.samples import RATE_HZ


def test_what_sounded_is_found_at_its_time_and_silence_around_it() -> None:
    played = Played()
    played.put(100.0, np.full(160, 7, np.int16))
    found = played.between(99.99, 480)
    assert found.tolist() == [0] * 160 + [7] * 160 + [0] * 160


def test_pieces_that_follow_each_other_leave_no_gap_where_their_times_jitter() -> None:
    played = Played()
    played.put(100.0, np.full(160, 7, np.int16))
    played.put(100.013, np.full(160, 8, np.int16))
    assert played.between(100.0, 320).tolist() == [7] * 160 + [8] * 160


def test_what_was_long_ago_is_not_taken_for_now() -> None:
    played = Played()
    played.put(100.0, np.full(RATE_HZ, 7, np.int16))
    assert not played.between(100.0 + KEPT_S, RATE_HZ).any()


def test_the_childs_reports_put_each_sound_at_the_time_the_device_played_it() -> None:
    played = Played()
    report = Report(played)
    report.opened(48_000)
    time_s = np.arange(480 * 60) / 48_000
    tone = (8000 * np.sin(2 * np.pi * 500 * time_s)).astype("<i2")
    for number in range(100):
        report.pulse(PULSE.pack(number * BLOCK_S, 200.0 + number * BLOCK_S))
        if number >= 40:
            block = tone[(number - 40) * 480 : (number - 39) * 480]
            report.sounded(PLACE.pack(number * BLOCK_S + 0.05) + block.tobytes())
    loud = np.flatnonzero(np.abs(played.between(200.0, 2 * RATE_HZ)) > 500)
    begins_s = 200.0 + loud[0] / RATE_HZ
    assert abs(begins_s - (200.0 + 40 * BLOCK_S + 0.05)) < 0.02  # the resampler's own delay
