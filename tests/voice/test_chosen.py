"""The voice the cook chose, or what is there; tried with engines made for the test."""

import os
import stat
import sys
from pathlib import Path

import pytest

from assistant.voice import chosen, synth
from assistant.voice.chosen import Chosen, VoiceName, chosen_synth, known_voices
from assistant.voice.synth import VoiceError

ESPEAK = """#!{python}
import struct, sys
if "--voices=en" in sys.argv:
    print("Pty Language Age/Gender VoiceName File Other")
    print(" 5  en-gb --/M English_(Great_Britain) gmw/en (en 2)")
    print(" 5  en-us --/M us-mbrola-2 mb/mb-us2 (en 7)")
    sys.exit(0)
voice, pace = sys.argv[sys.argv.index("-v") + 1], int(sys.argv[sys.argv.index("-s") + 1])
if voice == "nobody":
    sys.exit("no such voice")
body = struct.pack("<h", 8000) * (40000 * 165 // pace)
out = sys.stdout.buffer
out.write(b"RIFF" + struct.pack("<I", 0) + b"WAVEfmt " + struct.pack("<IHHIIHH", 16, 1, 1, 20000,
          40000, 2, 16) + b"data" + struct.pack("<I", 0) + body)
"""
PYTTSX3 = """
import wave
class Voice:
    id, name, languages = "com.system.alba", "Alba", [b"en_GB"]
class Engine:
    def getProperty(self, name): return [Voice()]
    def setProperty(self, name, value): self.__dict__[name] = value
    def save_to_file(self, text, path):
        with wave.open(path, "wb") as file:
            file.setparams((1, 2, 16000, 0, "NONE", ""))
            length = 8000 if getattr(self, "voice", "") == Voice.id else 4000
            file.writeframes(b"\\x00\\x20" * length)
    def runAndWait(self): pass
def init(): return Engine()
"""


@pytest.fixture
def engines(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Both engines, each a page of code."""
    program = tmp_path / "espeak-ng"
    program.write_text(ESPEAK.format(python=sys.executable))
    program.chmod(program.stat().st_mode | stat.S_IXUSR)
    (tmp_path / "pyttsx3.py").write_text(PYTTSX3)
    monkeypatch.setenv("PATH", f"{tmp_path}{os.pathsep}/usr/bin{os.pathsep}/bin")
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    return program


def test_every_english_voice_of_both_engines_is_listed(engines: Path) -> None:
    found = known_voices()
    assert VoiceName("espeak-ng", "en-gb", "English (Great Britain)") in found
    assert VoiceName("system", "com.system.alba", "Alba") in found
    assert not any("mbrola" in one.told for one in found)


def test_espeak_is_taken_where_it_is_and_else_the_systems_own(
    engines: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As on a Mac or under Windows, where nothing has to be installed."""
    assert chosen.default_engine() == "espeak-ng"
    assert chosen_synth(Chosen()) is synth.espeak
    engines.unlink()
    monkeypatch.setenv("PATH", str(engines.parent))
    assert chosen.default_engine() == "system"
    assert chosen_synth(Chosen())("hello", 165).rate_hz == 16_000


def test_the_chosen_engine_and_voice_speak(engines: Path) -> None:
    usual = chosen_synth(Chosen("system"))("hello", 165)
    alba = chosen_synth(Chosen("system", "com.system.alba"))("hello", 165)
    assert len(alba.samples) == 2 * len(usual.samples)


def test_a_voice_that_does_not_speak_is_told_and_another_does(engines: Path) -> None:
    notices: list[str] = []
    sound = chosen_synth(Chosen("espeak-ng", "nobody"), notices.append)("hello", 165)
    assert len(sound.samples)
    assert len(notices) == 1
    assert "no such voice" in notices[0]


def test_pace_and_volume_are_the_chosen_ones(engines: Path) -> None:
    usual = chosen_synth(Chosen())("hello", 165)
    slow = chosen_synth(Chosen(words_per_minute=110, volume=0.5))("hello", 165)
    assert len(slow.samples) == pytest.approx(1.5 * len(usual.samples), rel=0.02)
    assert slow.samples.max() == usual.samples.max() // 2
    quick = chosen_synth(Chosen(words_per_minute=110))("hello", 215)
    assert len(quick.samples) < len(slow.samples)


def test_no_voice_at_all_is_one_clear_line(engines: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    engines.unlink()
    (engines.parent / "pyttsx3.py").write_text("raise ImportError('no driver')")
    monkeypatch.setenv("PATH", str(engines.parent))
    assert known_voices() == ()
    with pytest.raises(VoiceError, match="install espeak-ng") as caught:
        chosen_synth(Chosen())
    assert "\n" not in str(caught.value)
