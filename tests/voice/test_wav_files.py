"""Speech on disk: numbered files, and one tape of the conversation."""

from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.sound.samples import RATE_HZ, Sound
from assistant.voice.speech import Speech
from assistant.voice.synth import Voice, VoiceError
from assistant.voice.wav_files import PAUSE_S, Tape, WavSpeaker, file_name


def voice(rate_hz: int = 22_050) -> Voice:
    def hum(text: str, words_per_minute: int) -> Sound:
        time_s = np.arange(rate_hz) / rate_hz
        return Sound((8000 * np.sin(2 * np.pi * 440 * time_s)).astype(np.int16), rate_hz)

    return Voice(hum)


def test_each_speech_becomes_a_numbered_file(tmp_path: Path) -> None:
    speaker = WavSpeaker(voice(), tmp_path / "said")
    speaker.say(Speech("Bird 2: 130 F.", "Bird two, one thirty."))
    speaker.say(Speech("Sauce bird 1!", "Sauce bird one!", "soon"))
    names = sorted(path.name for path in (tmp_path / "said").iterdir())
    assert names == ["0001_bird_2_130_f.wav", "0002_sauce_bird_1.wav"]
    samples, rate_hz = soundfile.read(tmp_path / "said" / names[0], dtype="int16")
    assert rate_hz == 22_050
    assert len(samples) == 22_050


def test_a_second_run_into_the_same_folder_goes_on_counting(tmp_path: Path) -> None:
    WavSpeaker(voice(), tmp_path).say(Speech("one", "one"))
    WavSpeaker(voice(), tmp_path).say(Speech("two", "two"))
    assert sorted(path.name for path in tmp_path.iterdir()) == ["0001_one.wav", "0002_two.wav"]


@pytest.mark.parametrize("words", ["", "../../etc/passwd", "ünïcode / \\ : *", "x" * 300])
def test_a_file_name_is_safe_whatever_is_said(words: str) -> None:
    name = file_name(7, words)
    assert name.startswith("0007_")
    assert name.endswith(".wav")
    assert len(name) < 60
    assert set(name) <= set("abcdefghijklmnopqrstuvwxyz0123456789_.")


def test_a_file_that_cannot_be_written_is_told_and_not_raised(tmp_path: Path) -> None:
    told: list[str] = []
    speaker = WavSpeaker(voice(), tmp_path / "said", told.append)
    (tmp_path / "said").rmdir()
    speaker.say(Speech("hello", "hello"))
    assert len(told) == 1
    assert "was not written" in told[0]
    assert speaker.written == 0


def test_an_engine_that_fails_is_told(tmp_path: Path) -> None:
    def broken(text: str, words_per_minute: int) -> Sound:
        raise VoiceError("espeak-ng is not installed")

    told: list[str] = []
    WavSpeaker(Voice(broken), tmp_path, told.append).say(Speech("hello", "hello"))
    assert "espeak-ng is not installed" in told[0]


def test_the_tape_holds_both_sides_in_turn_at_one_rate(tmp_path: Path) -> None:
    tape = Tape(tmp_path / "talk.wav", voice())
    cook = Sound(np.full(RATE_HZ, 3000, np.int16), RATE_HZ)
    tape.add(cook)
    tape.say(Speech("Bird 2: 130 F.", "Bird two, one thirty."))
    tape.close()
    samples, rate_hz = soundfile.read(tmp_path / "talk.wav", dtype="int16")
    assert rate_hz == RATE_HZ
    assert len(samples) == pytest.approx(2 * (PAUSE_S + 1.0) * RATE_HZ, abs=3)
    assert tape.duration_s == pytest.approx(2 * (PAUSE_S + 1.0), abs=0.001)
    middle = samples[round((PAUSE_S + 0.5) * RATE_HZ)]
    assert middle == 3000


def test_a_prompt_on_the_tape_is_opened_by_its_tone(tmp_path: Path) -> None:
    tape = Tape(tmp_path / "talk.wav", voice())
    tape.say(Speech("Sauce", "sauce"))
    reply_s = tape.duration_s
    tape.say(Speech("Sauce", "sauce", "now"))
    tape.close()
    assert tape.duration_s - reply_s > reply_s + 0.5
