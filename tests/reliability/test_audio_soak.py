"""Minutes of sound through the real ears leave no descriptor open and no memory behind."""

import sys

import pytest

from assistant.live.listener import Listener
from assistant.sound.microphone import Block
from tests.benchmarks.corpus import voices
from tests.reliability import audio_soak

pytestmark = [
    pytest.mark.slow,
    pytest.mark.skipif(not sys.platform.startswith("linux"), reason="descriptors are Linux's"),
    pytest.mark.skipif(not voices(audio_soak.WANTED_VOICES), reason="no synthetic voice installed"),
]


def test_four_minutes_of_sound_hold_memory_flat_and_are_understood() -> None:
    slices = list(audio_soak.soak(240.0, 60.0))
    assert [one.audio_s for one in slices] == pytest.approx([60.0, 120.0, 180.0, 240.0])
    assert len({one.descriptors for one in slices}) == 1
    assert audio_soak.grown_kb(slices) < audio_soak.MOST_KB
    said = sum(one.said for one in slices)
    assert said >= 4
    assert sum(one.understood for one in slices) > said / 2


def test_sound_that_is_kept_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    kept: list[bytes] = []
    feed = Listener.feed

    def keeping(self: Listener, block: Block) -> None:
        kept.append(block.samples.tobytes())
        feed(self, block)

    monkeypatch.setattr(Listener, "feed", keeping)
    assert audio_soak.grown_kb(list(audio_soak.soak(240.0, 60.0))) > audio_soak.MOST_KB
