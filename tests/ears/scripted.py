"""Listeners whose answers a test writes into the sound itself.

The first sample says what the second listener makes of it, the second sample how the
first listener behaves, the third which bird it hears.
"""

import os
import time

import numpy as np

from assistant.ears.engine import CLEANED
from assistant.ears.heard import Hypothesis
from assistant.ears.whisper.guided import Sentence
from assistant.sound.samples import Samples

SURE, TORN, TALK = 1, 2, 3
QUICK, SLOW, HANGING, DYING = 1, 2, 3, 4
SLOW_S = 0.5
THIRTY, THIRTEEN = "bird two reads one thirty", "bird two reads one thirteen"


def sound(judge: int, engine: int, bird: int = 2) -> Samples:
    """1.7 seconds for the scripted listeners."""
    samples = np.zeros(27_000, np.int16)
    samples[:3] = judge, engine, bird
    return samples


def _sentence(words: str, mean: float) -> Sentence:
    tokens = len(words.split()) + 1
    return Sentence(words, mean * tokens, tokens)


class ScriptedJudge:
    """Sure of thirty, torn between thirty and thirteen, or finding nothing natural."""

    def __init__(self, *_grammar: object) -> None:
        pass

    def listen(self, samples: Samples) -> list[Sentence]:
        other = {SURE: -4.0, TORN: -0.31, TALK: -6.0}[int(samples[0])]
        first = {SURE: -0.05, TORN: -0.30, TALK: -5.5}[int(samples[0])]
        return [_sentence(THIRTY, first), _sentence(THIRTEEN, other)]

    def score(self, sentences: list[str]) -> list[Sentence]:
        return [_sentence(words, -4.0) for words in sentences]


class UnmakeableJudge:
    """Its model's file is damaged."""

    def __init__(self, *_grammar: object) -> None:
        raise ValueError("the file is damaged; install it again")


class ScriptedEngine:
    """Hears thirteen of some bird on every front; quickly, slowly, never, or to death."""

    def __init__(self, *_grammar: object) -> None:
        pass

    def hear_ahead(self, samples: Samples) -> None:
        time.sleep(60.0 if int(samples[1]) == HANGING else 0.0)

    def recognise(self, samples: Samples) -> tuple[Hypothesis, ...]:
        how = int(samples[1])
        if how == DYING:
            os._exit(1)
        time.sleep({QUICK: 0.0, SLOW: SLOW_S, HANGING: 60.0}[how])
        bird = ("one", "two", "three")[int(samples[2]) - 1]
        return (Hypothesis(f"bird {bird} reads one thirteen", -900.0, "sphinx"),)

    def look_closer(
        self, samples: Samples, found: tuple[Hypothesis, ...]
    ) -> tuple[Hypothesis, ...]:
        rated = tuple(Hypothesis(h.words, h.score, h.engine, 0.4) for h in found)
        return rated + tuple(
            Hypothesis(h.words, h.score, f"{h.engine} {CLEANED}", None) for h in found
        )
