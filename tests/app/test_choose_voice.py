"""`turnspit check --voices`: hear, choose, keep."""

import io
from pathlib import Path

import numpy as np
import pytest

from assistant.app import choose_voice, settings
from assistant.sound.samples import Sound
from assistant.voice.chosen import VoiceName
from assistant.voice.synth import Synth, VoiceError

VOICES = (VoiceName("espeak-ng", "en-gb", "English"), VoiceName("system", "alba", "Alba"))


def made(engine: str, name: str | None) -> Synth:
    def speak(text: str, words_per_minute: int) -> Sound:
        if name == "en-gb":
            raise VoiceError("it has lost its voice")
        return Sound(np.ones(100, np.int16), 1000)

    return speak


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(choose_voice, "named_synth", made)
    monkeypatch.setattr(settings, "config_folder", lambda: tmp_path)
    return tmp_path


def choose(typed: str, *, speaker: bool = True) -> tuple[VoiceName | None, list[str], int]:
    shown: list[str] = []
    played: list[Sound] = []

    def play(sound: Sound) -> bool:
        played.append(sound)
        return speaker

    kept = choose_voice.choose(VOICES, io.StringIO(typed), shown.append, play)
    return kept, shown, len(played)


def test_a_voice_is_heard_and_kept_and_the_rest_of_the_settings_stays(home: Path) -> None:
    path = home / "cook.toml"
    path.write_text("# mine\n[birds]\ncount = 3\n", encoding="utf-8")
    kept, shown, played = choose("2\nk\n")
    assert (kept, played) == (VOICES[1], 1)
    assert shown[-1].startswith("kept in ")
    text = path.read_text(encoding="utf-8")
    assert text.startswith("# mine\n[birds]\ncount = 3\n")
    own = settings.load(path)
    assert (own.birds, own.voice.engine, own.voice.name) == (3, "system", "alba")


def test_nothing_is_kept_that_was_not_heard(home: Path) -> None:
    kept, shown, played = choose("k\n9\n1\nk\n\n")
    assert (kept, played) == (None, 0)
    assert "it has lost its voice" in shown
    assert not (home / "cook.toml").exists()


def test_without_a_speaker_it_says_so(home: Path) -> None:
    _, shown, _ = choose("2\n\n", speaker=False)
    assert shown[-1] == "no speaker took the sound of system alba"


def test_settings_that_cannot_be_used_are_left_alone(home: Path) -> None:
    (home / "cook.toml").write_text("[birds\n", encoding="utf-8")
    with pytest.raises(settings.SettingsError, match="line 1"):
        choose("2\nk\n")
    assert (home / "cook.toml").read_text(encoding="utf-8") == "[birds\n"


def test_the_list_says_how_to_keep_one_and_what_to_do_without_any(home: Path) -> None:
    assert 'engine = "espeak-ng" and name = "en-gb"' in list(choose_voice.listed(VOICES))[-1]
    assert list(choose_voice.listed(())) == [choose_voice.NONE]
