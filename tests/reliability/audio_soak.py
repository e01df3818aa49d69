"""Hours of sound, as fast as the engines allow: python -m tests.reliability.audio_soak --hours 4

Grill noise, wind and room noise with a command or some table talk in every half
minute go through the live listener, its voice-activity model and the real
recogniser. Memory and descriptors are of all processes together.
"""

import argparse
import itertools
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field

import numpy as np
import psutil

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import CookBegan, Recorded
from assistant.ears.ears import Ears
from assistant.live.hearing import LiveEars, names_of
from assistant.live.listener import Listener
from assistant.live.turn import Turn
from assistant.sound.microphone import Block
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus import pink, say, voices
from tests.benchmarks.corpus_noise import grill, wind
from tests.benchmarks.hearing_live import listening
from tests.live.script import ROUND, Said
from tests.reliability.long_life import give_back_free

STRETCH_S = 30.0  # of noise, with one line somewhere in it
BLOCK_S = 0.1
NOISE_LEVEL = 120.0  # root mean square; the voices have some 2000
WANTED_VOICES = ("slt", "rms", "awb", "en-us")
UNDERSTOOD_IN_S = 60.0
MOST_KB = 2048  # a test of minutes may grow by so much: the sound itself would be 1.9 MB a minute
FIRST_S = 3600.0  # what grows in the first hour is warming up


@dataclass(frozen=True, slots=True)
class Slice:
    """A part of the soak: `audio_s` is where it ended, `wall_s` how long it took."""

    audio_s: float
    wall_s: float
    memory_kb: int
    descriptors: int
    said: int
    understood: int
    answers_s: tuple[float, ...]


@dataclass
class Soak:
    """The listener of a live cook with its ears; time is the sound's own."""

    listener: Listener
    turns: list[Turn]
    now_s: float = 0.0
    number: int = 0
    lines: list[tuple[Said, Samples]] = field(default_factory=list)

    def stretch(self) -> tuple[int, int]:
        """Half a minute; commands said in it, and understood as they were meant."""
        line, speech = self.lines[self.number % len(self.lines)]
        rng = np.random.default_rng(self.number)
        noise = (grill, wind, pink)[self.number % 3]
        self.number += 1
        wave = noise(round(STRETCH_S * RATE_HZ), rng) * NOISE_LEVEL
        start = int(rng.integers(RATE_HZ, len(wave) - len(speech) - 2 * RATE_HZ))
        wave[start : start + len(speech)] += speech
        self._feed(np.clip(wave, -32_000, 32_000).astype(np.int16))
        found = [turn.heard.command for turn in self.turns if turn.heard.outcome != "refuse"]
        if line.means is None:
            return 0, 0
        return 1, int(any(one is not None and line.means[0] == one.NAME for one in found))

    def _feed(self, samples: Samples) -> None:
        self.turns.clear()
        size = round(BLOCK_S * RATE_HZ)
        for place in range(0, len(samples), size):
            block = samples[place : place + size]
            self.now_s += len(block) / RATE_HZ
            self.listener.feed(Block(block, self.now_s))
        assert self.listener.wait_idle(UNDERSTOOD_IN_S), "the ears hang"


def soak(audio_s: float, slice_s: float) -> Iterator[Slice]:
    """Feed `audio_s` seconds of sound; a `Slice` after every `slice_s`."""
    with _soak() as one:
        for end_s in np.arange(slice_s, audio_s + 1.0, slice_s):
            began, said, understood, answers = time.perf_counter(), 0, 0, []
            while one.now_s < end_s - 1.0:
                counts = one.stretch()
                said, understood = said + counts[0], understood + counts[1]
                answers += [turn.heard.compute_s for turn in one.turns]
            yield Slice(
                one.now_s, time.perf_counter() - began, *_held(), said, understood, tuple(answers)
            )


@contextmanager
def _soak() -> Iterator[Soak]:
    cook = fold([Recorded(1, 0.0, CookBegan(birds=2))], Cook())
    speakers = itertools.cycle(voices(WANTED_VOICES))
    ears = LiveEars(Ears(names_of(cook), notice=_say_aside), cook, _say_aside)
    turns: list[Turn] = []
    with listening(ears, turns, free=False, now=lambda: one.now_s) as listener:
        one = Soak(listener, turns)
        one.lines = [(line, say(line.spoken, next(speakers))) for line in ROUND]
        yield one


def _held() -> tuple[int, int]:
    """Resident memory (KB) and open descriptors of this process and its children."""
    give_back_free()
    own = psutil.Process()
    family = [own, *own.children(recursive=True)]
    return sum(one.memory_info().rss for one in family) // 1024, sum(
        one.num_fds() for one in family
    )


def growth_per_hour(slices: list[Slice]) -> float:
    """Growth of memory as a share of it, per hour of sound, after the first hour; of a
    soak of under two hours after its first half."""
    warm_s = FIRST_S if slices[-1].audio_s >= 2 * FIRST_S else slices[-1].audio_s / 2
    first = next(one for one in slices if one.audio_s >= warm_s)
    last = slices[-1]
    if last is first:
        return 0.0
    return (last.memory_kb / first.memory_kb - 1.0) / ((last.audio_s - first.audio_s) / 3600.0)


def grown_kb(slices: list[Slice]) -> int:
    """How much more memory the later half held than the earlier; of each the least, since
    a slice may end while something is being recognised."""
    half = len(slices) // 2
    return min(one.memory_kb for one in slices[half:]) - min(one.memory_kb for one in slices[:half])


def line_of(one: Slice) -> str:
    """A slice as one line."""
    answers = np.quantile(one.answers_s, [0.5, 0.95]) if one.answers_s else (np.nan, np.nan)
    return (
        f"{one.audio_s / 3600:5.2f} h of sound: {one.wall_s:6.1f} s, "
        f"{one.memory_kb / 1024:7.1f} MB, {one.descriptors} descriptors, "
        f"understood {one.understood} of {one.said} commands, "
        f"answer median {1000 * answers[0]:.0f} ms, 95th percentile {1000 * answers[1]:.0f} ms"
    )


def _say_aside(text: str) -> None:
    print(text, file=sys.stderr)


def main() -> int:
    """Print a line a slice; 1 if something grew."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.audio_soak")
    parser.add_argument("--hours", type=float, default=4.0)
    parser.add_argument("--slice-minutes", type=float, default=15.0)
    options = parser.parse_args()
    slices = []
    for one in soak(options.hours * 3600.0, options.slice_minutes * 60.0):
        slices.append(one)
        print(line_of(one), flush=True)
    growth, wall_s = growth_per_hour(slices), sum(one.wall_s for one in slices)
    print(f"{slices[-1].audio_s / 3600:.2f} hours of sound in {wall_s / 60:.1f} minutes")
    print(f"memory grew by {100 * growth:.2f} % an hour once warm")
    grew = growth > 0.01 or slices[-1].descriptors > slices[0].descriptors
    return 1 if grew else 0


if __name__ == "__main__":
    sys.exit(main())
