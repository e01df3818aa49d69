"""Push to talk by a pedal: records of an evdev device, and what is said when it fails."""

import os
import threading
from pathlib import Path

import pytest

from assistant.live.keys import RECORD, Pedal, key_of, trouble_line

WAIT_S = 5.0


def record(kind: int, value: int) -> bytes:
    return RECORD.pack(1, 2, kind, 30, value)


@pytest.mark.parametrize(
    ("kind", "value", "meaning"),
    [(1, 1, True), (1, 0, False), (1, 2, None), (0, 0, None), (4, 1, None)],
)
def test_only_a_key_going_down_or_up_counts(kind: int, value: int, meaning: bool | None) -> None:
    assert key_of(record(kind, value)) is meaning


def test_a_pedal_is_followed(tmp_path: Path) -> None:
    path = tmp_path / "pedal"
    os.mkfifo(path)
    keys: list[bool] = []
    two = threading.Semaphore(0)

    def on_key(pressed: bool) -> None:
        keys.append(pressed)
        two.release()

    pedal = Pedal(path, on_key, lambda line: None)
    with path.open("wb", buffering=0) as device:
        device.write(record(1, 1) + record(0, 0) + record(1, 2) + record(1, 0))
        assert two.acquire(timeout=WAIT_S)
        assert two.acquire(timeout=WAIT_S)
        pedal.close()
    assert keys == [True, False]


def test_a_missing_pedal_is_told_once_with_what_to_do(tmp_path: Path) -> None:
    lines: list[str] = []
    told = threading.Event()

    def tell(line: str) -> None:
        lines.append(line)
        told.set()

    pedal = Pedal(tmp_path / "none", lambda pressed: None, tell)
    assert told.wait(WAIT_S)
    pedal.close()
    assert len(lines) == 1
    assert "plug it in" in lines[0]


def test_a_pedal_that_may_not_be_read_names_the_group() -> None:
    line = trouble_line(Path("/dev/input/event3"), PermissionError(13, "Permission denied"))
    assert "usermod -aG input" in line
    assert "\n" not in line
