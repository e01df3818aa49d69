"""Speech fed to the live listener at the pace of the clock: how soon it decides.

The listener, its voice-activity model and the recogniser run as in a live cook,
without the sound card: blocks arrive when they would from a microphone.
"""

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

import numpy as np

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import CookBegan, Recorded
from assistant.ears.ears import Ears
from assistant.live.gate import Gate
from assistant.live.hearing import LiveEars
from assistant.live.listener import Listener
from assistant.live.turn import Turn, Wiring
from assistant.sound.microphone import Block
from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.speech_chance import speech_chance
from tests.benchmarks.corpus_commands import TONIGHT

BLOCK_S = 0.032
WITHIN_S = 10.0
"""What is not decided by then is an error of the ears."""


@dataclass
class Room:
    """A listener, and somebody who speaks to it."""

    listener: Listener
    turns: list[Turn] = field(default_factory=list)

    def speak(self, samples: Samples) -> list[Turn]:
        """Play the samples in real time, then a second of faint noise; what came of it."""
        self.turns.clear()
        rng = np.random.default_rng(len(samples))
        silence = rng.normal(0.0, 8.0, RATE_HZ).astype(np.int16)
        self._play(np.concatenate([samples, silence]))
        if not self.listener.wait_idle(WITHIN_S):
            raise RuntimeError("the ears hang")
        return list(self.turns)

    def _play(self, samples: Samples) -> None:
        size = round(BLOCK_S * RATE_HZ)
        began = time.monotonic()
        for place in range(0, len(samples), size):
            block = samples[place : place + size]
            end_s = began + (place + len(block)) / RATE_HZ
            time.sleep(max(0.0, end_s - time.monotonic()))
            self.listener.feed(Block(block, end_s))


@contextmanager
def room() -> Iterator[Room]:
    """A room whose listener is free of the address word, as after a question."""
    cook = fold([Recorded(1, 0.0, CookBegan(birds=TONIGHT.birds))], Cook())
    ears = LiveEars(Ears(TONIGHT, engine="whisper"), cook, _say_aside)
    turns: list[Turn] = []
    with listening(ears, turns, free=True) as listener:
        yield Room(listener, turns)


@contextmanager
def listening(
    ears: LiveEars, turns: list[Turn], *, free: bool, now: Callable[[], float] = time.monotonic
) -> Iterator[Listener]:
    """The listener of a live cook with nothing but `ears` behind it; `turns` grows. All is
    closed afterwards, the ears too."""
    vad = speech_chance()
    wiring = Wiring(
        vad=vad,
        hear=ears.hear,
        opens=ears.opens,
        outlook=ears.outlook,
        on_turn=turns.append,
        on_speech=lambda _: None,
        on_noticed=lambda: None,
        on_cut_in=lambda _: None,
        is_own=lambda _: False,
        is_free=lambda: free,
        now=now,
    )
    listener = Listener(wiring, Gate())
    try:
        yield listener
    finally:
        listener.close()
        ears.close()


def _say_aside(text: str) -> None:
    print(text, file=sys.stderr)
