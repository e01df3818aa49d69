"""What was played, looked up by when."""

import numpy as np
import pytest

from assistant.sound.output_child import BLOCK_S, PLACE, PULSE
from assistant.sound.played import KEPT_S, Played
from assistant.sound.player import RAN_DRY_S, Report
from assistant.sound.samples import RATE_HZ


def test_what_sounded_is_found_at_its_time_and_silence_around_it() -> None:
    played = Played()
    played.put(100.0, np.full(160, 7, np.int16))
    found = played.between(99.99, 480)
    assert found.tolist() == [0] * 160 + [7] * 160 + [0] * 160


def test_pieces_that_follow_each_other_leave_no_gap_where_their_times_jitter() -> None:
    played = Played()
    played.put(100.0, np.full(160, 7, np.int16))
    played.put(100.013, np.full(160, 8, np.int16))  # 3 ms late
    assert played.between(100.0, 320).tolist() == [7] * 160 + [8] * 160


def test_a_sound_that_begins_soon_after_another_lies_at_its_own_time() -> None:
    """Sentences follow each other within some 70 ms, 60 of which are told as silence: joined
    to that, the next one would lie up to 30 ms early, and its echo be looked for there."""
    played = Played()
    report = Report(played)
    report.opened(48_000)
    report.pulse(PULSE.pack(0.0, 200.0))
    sound = np.full(480, 9000, "<i2").tobytes()
    for number in (*range(10), *range(12, 22)):  # two blocks of silence between, not told
        report.sounded(PLACE.pack(number * BLOCK_S) + sound)
    silent = np.flatnonzero(np.abs(played.between(200.0, RATE_HZ // 5)) < 4000) / RATE_HZ
    assert silent.min() == pytest.approx(0.1, abs=0.003)
    assert silent[silent < 0.15].max() == pytest.approx(0.12, abs=0.003)


def test_a_device_that_ran_dry_is_followed_within_a_third_of_a_second() -> None:
    """Else all of its voice would be looked for too early, for as long as the stamps before
    count: they show the stream further on than it can be now."""
    played = Played()
    report = Report(played)
    report.opened(48_000)
    sound = np.full(480, 9000, "<i2").tobytes()
    for number in range(100):
        dry_s = 0.05 if number >= 40 else 0.0
        late_s = 0.02 if number % 7 else 0.0  # a busy machine stamps most of them late
        report.pulse(PULSE.pack(number * BLOCK_S, 200.0 + number * BLOCK_S + dry_s + late_s))
        report.sounded(PLACE.pack(number * BLOCK_S) + sound)
    silent = np.flatnonzero(np.abs(played.between(200.0, RATE_HZ)) < 4000) / RATE_HZ
    gap = silent[(silent > 0.1) & (silent < 0.9)]
    assert len(gap) / RATE_HZ == pytest.approx(0.05, abs=0.004)
    assert 0.4 < gap.min() < 0.4 + RAN_DRY_S + 0.05


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
