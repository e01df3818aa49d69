"""A voice that is installed here, for tests that need real speech."""

import shutil

import pytest

from assistant.sound.samples import Samples
from tests.benchmarks.corpus import say as say_in_voice

VOICE = "slt" if shutil.which("flite") else "en-us" if shutil.which("espeak-ng") else None

needs_voice = pytest.mark.skipif(VOICE is None, reason="needs flite or espeak-ng")


def say(text: str) -> Samples:
    """`text` in the voice at hand, with a little room noise around it."""
    assert VOICE is not None
    return say_in_voice(text, VOICE)
