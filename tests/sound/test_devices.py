"""Devices are chosen and kept by name, and every failure says what to do."""

from pathlib import Path
from typing import Any

import pytest

from assistant.sound import devices
from assistant.sound.devices import DeviceError, formats, locked_out, pick, stable_name


def device(name: str, index: int, inputs: int = 1, rate: float = 48_000.0) -> dict[str, Any]:
    return {
        "name": name, "index": index, "max_input_channels": inputs,
        "max_output_channels": 0, "default_samplerate": rate,
    }  # fmt: skip


USB = device("Conference mic: USB Audio (hw:2,0)", 3)
BUILT_IN = device("HDA Intel PCH: ALC257 Analog (hw:0,0)", 0, inputs=2)
DEFAULT = device("default", 5, inputs=32)
SPEAKER = device("HDMI 0", 4, inputs=0)


def test_the_card_number_is_no_part_of_a_name() -> None:
    moved = stable_name("Conference mic: USB Audio (hw:5,0)")
    assert moved == stable_name(USB["name"]) == "Conference mic: USB Audio"


def test_a_device_is_found_again_by_name_wherever_it_was_plugged_in() -> None:
    again = device("Conference mic: USB Audio (hw:7,0)", 9)
    chosen = pick([BUILT_IN, again, DEFAULT], 5, "input", stable_name(USB["name"]))
    assert chosen["index"] == 9
    assert chosen["is_wanted"]


def test_a_part_of_the_name_will_do_in_any_case_but_the_whole_name_wins() -> None:
    longer = device("USB Audio extension", 1)
    whole = device("USB Audio (hw:2,0)", 2)
    assert pick([longer, whole], 1, "input", "usb audio")["index"] == 2
    assert pick([BUILT_IN, USB], 0, "input", "conference")["index"] == 3


def test_a_missing_device_is_stood_in_for_by_the_default() -> None:
    chosen = pick([BUILT_IN, DEFAULT], 5, "input", "Conference mic: USB Audio")
    assert chosen["index"] == 5
    assert not chosen["is_wanted"]


def test_without_a_wish_the_default_is_taken_and_is_what_was_wanted() -> None:
    chosen = pick([BUILT_IN, USB, DEFAULT], 5, "input", "")
    assert chosen["index"] == 5
    assert chosen["is_wanted"]


def test_a_default_that_is_gone_leaves_the_first_device_that_can_hear() -> None:
    assert pick([SPEAKER, USB], -1, "input", "")["index"] == 3


def test_nothing_that_can_hear_is_one_line_with_what_to_do() -> None:
    with pytest.raises(DeviceError, match="no microphone found: plug one in"):
        pick([SPEAKER], 4, "input", "")


def test_hardware_that_may_not_be_opened_names_the_group(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "pcmC0D0c").touch()
    monkeypatch.setattr(devices.os, "access", lambda path, mode: False)
    assert locked_out(tmp_path)
    monkeypatch.setattr(devices, "locked_out", lambda: True)
    with pytest.raises(DeviceError, match="usermod -aG audio"):
        pick([], -1, "input", "")


def test_a_machine_without_sound_hardware_is_not_locked_out(tmp_path: Path) -> None:
    assert not locked_out(tmp_path / "snd")
    (tmp_path / "timer").touch()
    assert not locked_out(tmp_path)


def test_a_devices_own_rate_and_one_channel_are_tried_first() -> None:
    assert formats(device("x", 0, inputs=2, rate=44_100.0), "input")[:4] == [
        (44_100, 1),
        (44_100, 2),
        (48_000, 1),
        (48_000, 2),
    ]
    assert all(count <= 1 for _, count in formats(device("x", 0), "input"))
