"""Minutes of sound through the real ears leave no descriptor open and no thread behind."""

import sys

import pytest

from tests.benchmarks.corpus import voices
from tests.reliability import audio_soak


@pytest.mark.slow
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="descriptors are Linux's")
@pytest.mark.skipif(not voices(audio_soak.WANTED_VOICES), reason="no synthetic voice installed")
def test_four_minutes_of_sound_hold_descriptors_flat_and_are_understood() -> None:
    slices = list(audio_soak.soak(240.0, 120.0))
    assert [one.audio_s for one in slices] == pytest.approx([120.0, 240.0])
    assert slices[1].descriptors == slices[0].descriptors
    said = sum(one.said for one in slices)
    assert said >= 4
    assert sum(one.understood for one in slices) > said / 2
