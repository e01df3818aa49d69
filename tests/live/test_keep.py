"""Recordings of commands, kept only on request, findable and deletable."""

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import soundfile

from assistant.ears.heard import Heard
from assistant.live.keep import KeptAudio, segment_name
from assistant.sound.samples import RATE_HZ

AT = datetime(2026, 6, 20, 18, 15, 2, tzinfo=UTC)
SOUND = (1000 * np.sin(np.arange(RATE_HZ) / 8)).astype(np.int16)


def heard(words: str, outcome: str = "accept") -> Heard:
    return Heard(words, None, 1.0, outcome)  # type: ignore[arg-type]  # a str is one of them


def test_a_segment_is_named_by_time_outcome_and_words() -> None:
    name = segment_name(AT, heard("bird two reads one thirty"))
    assert name == "181502_accept_bird_two_reads_one_thirty.flac"
    assert segment_name(AT, heard("", "refuse")) == "181502_refuse_no_words.flac"


def test_a_kept_segment_is_the_sound_itself(tmp_path: Path) -> None:
    kept = KeptAudio(tmp_path / "audio")
    assert kept.keep(SOUND, heard("lid off"), AT) is None
    (path,) = (tmp_path / "audio").iterdir()
    samples, rate_hz = soundfile.read(path, dtype="int16")
    assert rate_hz == RATE_HZ
    assert np.array_equal(samples, SOUND)


def test_the_same_words_in_the_same_second_do_not_overwrite(tmp_path: Path) -> None:
    kept = KeptAudio(tmp_path)
    for _ in range(3):
        assert kept.keep(SOUND, heard("lid off"), AT) is None
    assert len(list(tmp_path.iterdir())) == 3


def test_the_notice_says_where_and_how_to_delete(tmp_path: Path) -> None:
    folder = tmp_path / "my cook"
    notice = KeptAudio(folder).notice()
    assert f"rm -r '{folder}'" in notice


def test_a_folder_only_the_cook_can_read(tmp_path: Path) -> None:
    assert KeptAudio(tmp_path / "audio").folder.stat().st_mode & 0o077 == 0


def test_a_disk_that_refuses_is_one_line_and_leaves_no_torn_file(tmp_path: Path) -> None:
    kept = KeptAudio(tmp_path / "audio")
    (tmp_path / "audio").rmdir()
    trouble = kept.keep(SOUND, heard("lid off"), AT)
    assert trouble is not None
    assert trouble.startswith("the recording was not kept")
