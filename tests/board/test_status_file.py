"""The status file for other programs."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from assistant.board.status_file import replace_text, status_text
from tests.board.examples import evening, minutes


def parsed(text: str) -> dict[str, str]:
    return dict(line.split(": ", 1) for line in text.splitlines())


def test_the_status_reads_as_reviewed(snapshot: SnapshotAssertion) -> None:
    assert status_text(evening()) == snapshot


def test_times_are_machine_readable() -> None:
    keys = parsed(status_text(evening()))
    assert datetime.fromisoformat(keys["time"]).timestamp() == minutes(0)
    early, middle, late = (
        datetime.fromisoformat(each) for each in keys["bird.1.done_mark"].split()
    )
    assert early < middle < late


def test_heard_words_cannot_add_lines() -> None:
    keys = parsed(status_text(evening(heard="yes\nbird.1.done_mark: now\x1b[2J")))
    assert keys["heard"] == "yes bird.1.done_mark: now [2J"


def test_the_file_is_replaced_as_a_whole_and_nothing_is_left_over(tmp_path: Path) -> None:
    path = tmp_path / "status.txt"
    replace_text(path, status_text(evening()))
    with path.open() as old:
        replace_text(path, status_text(replace(evening(), now_s=minutes(1))))
        assert parsed(old.read())["elapsed_s"] == "6600"  # a reader keeps the whole old file
    assert parsed(path.read_text())["elapsed_s"] == "6660"
    assert [each.name for each in tmp_path.iterdir()] == ["status.txt"]


def test_a_full_disk_leaves_the_old_status(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "status.txt"
    replace_text(path, "before")

    def full(_self: Path, _target: Path) -> Path:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    with pytest.raises(OSError, match="No space left"):
        replace_text(path, "after")
    assert path.read_text() == "before"
    assert [each.name for each in tmp_path.iterdir()] == ["status.txt"]
