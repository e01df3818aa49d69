"""Words become samples, whatever the words are, and what fails says how to fix it."""

import shutil
import stat
from pathlib import Path

import numpy as np
import pytest

from assistant.sound.samples import Sound
from assistant.voice import synth
from assistant.voice.synth import Voice, VoiceError

needs_espeak = pytest.mark.skipif(
    shutil.which("espeak-ng") is None, reason="espeak-ng is not installed"
)


def counting_synth(calls: list[tuple[str, int]], seconds: float = 1.0) -> synth.Synth:
    def make(text: str, words_per_minute: int) -> Sound:
        calls.append((text, words_per_minute))
        length = round(1000 * seconds * synth.WORDS_PER_MINUTE / words_per_minute)
        return Sound(np.ones(length, np.int16), 1000)

    return make


def fake_engine(folder: Path, script: str) -> None:
    path = folder / "espeak-ng"
    path.write_text(f"#!/bin/sh\n{script}\n")
    path.chmod(path.stat().st_mode | stat.S_IXUSR)


@needs_espeak
def test_espeak_speaks_at_its_own_rate_without_silence_around() -> None:
    sound = synth.espeak("bird two, one thirty")
    loud = np.flatnonzero(np.abs(sound.samples.astype(int)) > synth.SILENT_BELOW)
    assert sound.rate_hz == 22_050
    assert 0.7 < sound.duration_s < 3.0
    assert loud[0] <= 0.02 * sound.rate_hz
    assert len(sound.samples) - loud[-1] <= 0.1 * sound.rate_hz


@needs_espeak
@pytest.mark.parametrize(
    "text",
    ["-v xx --version", "`touch owned` $(touch owned); touch owned", "\"quotes' and | pipes"],
)
def test_text_is_never_an_option_nor_a_shell_command(
    text: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert synth.espeak(text).duration_s > 0.5
    assert list(tmp_path.iterdir()) == []


@needs_espeak
def test_phoneme_marks_and_controls_are_read_as_plain_text() -> None:
    assert synth.plain("bird [[one]]\ttwo\x00\n") == "bird one two"
    assert synth.espeak("bird [[one]]").duration_s > 0.4


def test_missing_espeak_says_how_to_install_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(VoiceError, match="apt install espeak-ng"):
        synth.espeak("hello")


@pytest.mark.parametrize(
    ("script", "said"),
    [
        ("echo phondata missing >&2; exit 3", "phondata missing"),
        ("exit 0", "espeak-ng failed"),
        ("exec sleep 60", "did not answer"),
    ],
)
def test_a_broken_engine_is_one_clear_line(
    script: str, said: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    fake_engine(tmp_path, script)
    monkeypatch.setenv("PATH", f"{tmp_path}:/usr/bin:/bin")
    monkeypatch.setattr(synth, "ENGINE_TIMEOUT_S", 0.3)
    with pytest.raises(VoiceError) as caught:
        synth.espeak("hello")
    assert said in str(caught.value)
    assert "\n" not in str(caught.value)


@needs_espeak
@pytest.mark.slow
def test_the_systems_own_voice_speaks_through_pyttsx3() -> None:
    sound = synth.system_voice("bird two, one thirty")
    assert 0.7 < sound.duration_s < 3.0


def test_a_hanging_system_voice_is_given_up(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(synth, "PYTTSX3_CHILD", "import time; time.sleep(60)")
    monkeypatch.setattr(synth, "ENGINE_TIMEOUT_S", 0.3)
    with pytest.raises(VoiceError, match="did not answer: install espeak-ng"):
        synth.system_voice("hello")


def test_a_failing_system_voice_names_the_fix(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(synth, "PYTTSX3_CHILD", "raise SystemExit(1)")
    with pytest.raises(VoiceError, match="no speech engine works here: install espeak-ng"):
        synth.system_voice("hello")


def test_without_espeak_the_systems_own_voice_is_tried(monkeypatch: pytest.MonkeyPatch) -> None:
    def system_voice(text: str, words_per_minute: int) -> Sound:
        return Sound(np.ones(10, np.int16), 1000)

    monkeypatch.setattr(shutil, "which", lambda name: None)
    monkeypatch.setattr(synth, "system_voice", system_voice)
    assert synth.find_synth() is system_voice


def test_an_engine_that_is_silent_is_not_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: "/usr/bin/espeak-ng")
    monkeypatch.setattr(synth, "espeak", lambda text, wpm: Sound(np.zeros(0, np.int16), 22_050))
    with pytest.raises(VoiceError, match="makes no sound"):
        synth.find_synth()


def test_what_was_said_once_is_not_made_again() -> None:
    calls: list[tuple[str, int]] = []
    voice = Voice(counting_synth(calls))
    voice.premake(["got it", "say again"])
    assert voice.sound("got it") is voice.sound("got it")
    assert [text for text, _ in calls] == ["got it", "say again"]


def test_the_memory_of_sounds_is_bounded() -> None:
    calls: list[tuple[str, int]] = []
    voice = Voice(counting_synth(calls, seconds=0.01))
    for number in range(synth.CACHE_SOUNDS + 1):
        voice.sound(f"{number} minutes")
    voice.sound("0 minutes")
    voice.sound(f"{synth.CACHE_SOUNDS} minutes")
    assert len(calls) == synth.CACHE_SOUNDS + 2


@pytest.mark.parametrize(
    ("letters", "pace"), [(10, 165), (44, 165), (46, 190), (51, 190), (52, 215), (300, 215)]
)
def test_a_reply_of_more_than_three_seconds_is_quickened_within_reason(
    letters: int, pace: int
) -> None:
    assert synth.reply_pace("a" * letters) == pace


@needs_espeak
@pytest.mark.parametrize(
    "text",
    [
        "Bird two, one thirty. Sauce it in ten minutes.",
        "Bird one, five pounds eight ounces, motor end.",
        "Under a minute since the first bird went on.",
    ],
)
def test_an_ordinary_reply_lasts_about_three_seconds_at_most(text: str) -> None:
    assert synth.espeak(text, synth.reply_pace(text)).duration_s < 3.2


def test_another_pace_is_another_sound() -> None:
    calls: list[tuple[str, int]] = []
    voice = Voice(counting_synth(calls))
    voice.sound("lid off")
    voice.sound("lid off", 215)
    voice.sound("lid off", 215)
    assert calls == [("lid off", 165), ("lid off", 215)]
