"""Where speech begins and ends: a voice-activity model, with a bound on patience."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Literal

import numpy as np

from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.speech_chance import CHUNK, SpeechChance, speech_chance


@dataclass(frozen=True, slots=True)
class Patience:
    """How long to wait, in seconds, and how sure to be that somebody speaks.

    `pause_s`: silence after which what was said so far is worth decoding ahead.
    `hang_s`: silence that ends an utterance; pauses shorter than it are joined.
    `longest_s`: an utterance is cut there even if the noise never stops.
    `lead_s`: sound kept from before the first speech. `shortest_s`: less speech
    than this is a knock, not a word.
    """

    pause_s: float = 0.2
    hang_s: float = 0.5
    longest_s: float = 12.0
    lead_s: float = 0.3
    shortest_s: float = 0.12
    threshold: float = 0.5


@dataclass(frozen=True, slots=True)
class SpeechEvent:
    """`started`: somebody speaks. `paused`: perhaps the end; `samples` is the
    utterance so far. `ended`: the end; `samples` is the whole utterance.
    `at_s` is the time in the stream; `cut` says that `longest_s` ended it."""

    kind: Literal["started", "paused", "ended"]
    at_s: float
    samples: Samples | None = None
    cut: bool = False


@dataclass
class SpeechEnd:
    """Finds utterances in a stream of 16 kHz samples pushed in pieces of any size."""

    patience: Patience = field(default_factory=Patience)
    _chance: SpeechChance = field(default_factory=speech_chance)
    _rest: Samples = field(default_factory=lambda: np.zeros(0, np.int16))
    _kept: list[Samples] = field(default_factory=list)
    _chunks: int = 0
    _speaking: bool = False
    _spoken: int = 0
    _silent: int = 0

    def push(self, samples: Samples) -> list[SpeechEvent]:
        """Take the next samples; what they brought about, in order."""
        waiting = np.concatenate([self._rest, samples])
        whole = len(waiting) // CHUNK * CHUNK
        self._rest = waiting[whole:]
        events: list[SpeechEvent] = []
        for place in range(0, whole, CHUNK):
            events += self._chunk(waiting[place : place + CHUNK])
        return events

    def flush(self) -> list[SpeechEvent]:
        """The stream is over: an utterance still open ends here."""
        events = self.push(np.zeros(-len(self._rest) % CHUNK, np.int16)) if len(self._rest) else []
        if self._speaking:
            events += self._close(cut=False)
        return events

    def reset(self) -> None:
        """Forget the stream, for instance after the program itself has spoken."""
        self._chance.reset()
        self._rest = self._rest[:0]
        self._kept, self._speaking, self._spoken, self._silent = [], False, 0, 0

    def _chunk(self, chunk: Samples) -> Iterator[SpeechEvent]:
        self._chunks += 1
        self._kept.append(chunk)
        is_speech = self._chance(chunk) > self.patience.threshold
        if not self._speaking:
            yield from self._wait(is_speech=is_speech)
            return
        self._silent = 0 if is_speech else self._silent + 1
        self._spoken += is_speech
        if self._silent == _chunks_in(self.patience.pause_s) and self._is_word():
            yield SpeechEvent("paused", self._now_s(), np.concatenate(self._kept))
        if self._silent >= _chunks_in(self.patience.hang_s):
            yield from self._close(cut=False)
        elif len(self._kept) >= _chunks_in(self.patience.longest_s):
            yield from self._close(cut=True)

    def _wait(self, *, is_speech: bool) -> Iterator[SpeechEvent]:
        self._kept = self._kept[-_chunks_in(self.patience.lead_s) :]
        if is_speech:
            self._speaking, self._spoken, self._silent = True, 1, 0
            yield SpeechEvent("started", self._now_s())

    def _close(self, *, cut: bool) -> Iterator[SpeechEvent]:
        utterance, is_word = np.concatenate(self._kept), self._is_word()
        # A little of the end stays as the lead of whatever follows at once.
        self._kept = self._kept[-_chunks_in(self.patience.lead_s) :] if not cut else []
        self._speaking, self._spoken, self._silent = False, 0, 0
        if is_word:
            yield SpeechEvent("ended", self._now_s(), utterance, cut)

    def _is_word(self) -> bool:
        return self._spoken >= _chunks_in(self.patience.shortest_s)

    def _now_s(self) -> float:
        return self._chunks * CHUNK / RATE_HZ


def _chunks_in(seconds: float) -> int:
    return max(1, round(seconds * RATE_HZ / CHUNK))


SURE, UNSURE = 0.5, 0.25
"""A recording where nobody surely speaks is looked through again for a voice in noise."""


def spoken_span(samples: Samples, margin_s: float = 0.25) -> slice:
    """From the first speech of a recording to the last, with a margin on both sides;
    empty when nobody speaks. One recording is one utterance, however long its pauses."""
    chance = speech_chance()
    padded = np.pad(samples, (0, -len(samples) % CHUNK))
    chances = [chance(chunk) for chunk in padded.reshape(-1, CHUNK)]
    most = max(chances, default=0.0)
    voiced = np.flatnonzero(np.array(chances) > (SURE if most > SURE else UNSURE))
    if len(voiced) == 0:
        return slice(0, 0)
    margin = int(margin_s * RATE_HZ)
    first, last = int(voiced[0]) * CHUNK, (int(voiced[-1]) + 1) * CHUNK
    return slice(max(0, first - margin), min(len(samples), last + margin))
