"""Recognisers whose answers a test writes into the sound itself: the first sample says what
is made of it, or what becomes of the process."""

import os
import time
from pathlib import Path

import numpy as np

from assistant.ears.evidence import Evidence
from assistant.ears.heard import Sentence
from assistant.sound.samples import Samples

SURE, TORN, TALK, DYING, DYING_ONCE, HANGING = range(1, 7)
THIRTY, THIRTEEN = "bird two reads one thirty", "bird two reads one thirteen"
_MEANS = {SURE: (-0.05, -4.0), TORN: (-0.30, -0.31), TALK: (-5.5, -6.0), DYING_ONCE: (-0.05, -4.0)}


def sound(kind: int) -> Samples:
    """1.7 seconds for a scripted recogniser."""
    samples = np.zeros(27_000, np.int16)
    samples[0] = kind
    return samples


def _sentence(words: str, mean: float) -> Sentence:
    tokens = len(words.split()) + 1
    return Sentence(words, mean * tokens, tokens)


class Scripted:
    """Sure of thirty, torn between thirty and thirteen, or finding nothing natural; dying of a
    sound every time or once, or hanging."""

    def __init__(self, *_grammar: object, **_how: object) -> None:
        pass

    def set_grammar(self, grammar: object) -> None:
        if "zhoug" in grammar.names:  # type: ignore[attr-defined]
            raise ValueError("zhoug cannot be listened for")

    def recognise(self, samples: Samples, *_how: object) -> Evidence:
        kind = int(samples[0])
        died = Path(os.environ["TURNSPIT_SCRIPTED"])
        if kind == DYING or (kind == DYING_ONCE and not died.exists()):
            died.touch()
            os._exit(1)
        if kind == HANGING:
            time.sleep(60.0)
        first, other = _MEANS[kind]
        return Evidence((_sentence(THIRTY, first), _sentence(THIRTEEN, other)))


class Unmakeable:
    """Its model's file is damaged."""

    def __init__(self, *_grammar: object, **_how: object) -> None:
        raise ValueError("the file is damaged; install it again")
