"""Tracks of table talk for hours of listening: ten minutes each, seeded.

People talk in turns, in all ten voices and as recorded people, with pauses between: three
in four lines are invented (corpus_chatter.py; a few of the fixed list), the rest are human
drink orders and stretches of audiobooks, played a little faster or slower each time. The
loudness of a line wanders; behind them is a quiet room, or at 20 or 10 dB below them the
noises of the place, half a minute each.
"""

import random
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import cycle, islice

import numpy as np
import soxr
from numpy.typing import NDArray

from assistant.ears.endpointer import spoken_span
from assistant.live.utterance import CHUNK
from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.speech_chance import speech_chance
from tests.benchmarks import corpora
from tests.benchmarks.corpora import MOST, TEST
from tests.benchmarks.corpus import FOLDER, NATURAL, Wave, clipped, pink, say, unit, voices
from tests.benchmarks.corpus_chatter import chatter
from tests.benchmarks.corpus_noise import NOISES, noise
from tests.benchmarks.corpus_talk import NEAR, TALK
from tests.benchmarks.hearing_evidence import Item
from tests.benchmarks.hearing_people import people_tracks

TRACK_S = 600
STRETCH_S = 30
SPEECH_LEVEL = 2300.0  # root mean square, 23 dB below full scale
LINES = 260  # more than fit into a track
HUMAN_SHARE, FIXED_SHARE = 0.25, 0.05
CLEAN_DB = 45.0
TABLE = "table talk, generated"
_VERSION = 1


@dataclass(frozen=True)
class Line:
    """What somebody said, and when in the track it began."""

    start_s: float
    words: str


@dataclass(frozen=True)
class Track:
    """Ten minutes of talk at a level of noise: of the invented table, or of a `source` of
    recorded people (hearing_people.py), whose last track is shorter. Its sound is made when it
    is needed; the voice-activity model's verdict on each chunk is kept."""

    number: int
    snr_db: float
    source: str = TABLE

    @property
    def key(self) -> str:
        """What names the track."""
        of = "" if self.source == TABLE else f"{self.source} "
        return f"talk track {_VERSION} {of}{self.number} {self.snr_db:g} dB"

    def sound(self) -> Samples:
        """The whole track."""
        return _sound(self.source, self.number, self.snr_db)

    def lines(self) -> tuple[Line, ...]:
        """What is said in it, in order."""
        return _script(self.source, self.number)[1]

    def voice_chances(self) -> NDArray[np.float32]:
        """The chance of a voice in every chunk of `CHUNK` samples."""
        path = FOLDER / "talk" / f"{self.key}.npy"
        if not path.is_file():
            path.parent.mkdir(parents=True, exist_ok=True)
            vad = speech_chance()
            sound = self.sound()
            chunks = sound[: len(sound) // CHUNK * CHUNK].reshape(-1, CHUNK)
            chances = [vad(chunk) for chunk in chunks]
            np.save(path, np.array(chances, np.float32))
        kept: NDArray[np.float32] = np.load(path)
        return kept


@lru_cache(1)
def _people() -> tuple[Item, ...]:
    """Recorded people who speak of something else."""
    return tuple(corpora.human_talk(MOST))


def _sentences(number: int) -> Iterator[str]:
    """The invented sentences of one track; no two tracks share one."""
    return islice(chatter(TEST), number * LINES, (number + 1) * LINES)


@lru_cache(2)
def _script(source: str, number: int) -> tuple[Wave, tuple[Line, ...]]:
    """The speech of a track, and its lines."""
    if source != TABLE:
        wave, lines = people_tracks(source, TRACK_S)[number]
        return wave, tuple(Line(*line) for line in lines)
    return _table(number)


def _table(number: int) -> tuple[Wave, tuple[Line, ...]]:
    chance = random.Random(1000 + number)
    speakers = cycle(chance.sample(voices(NATURAL), len(voices(NATURAL))))
    invented = _sentences(number)
    wave, lines = np.zeros(TRACK_S * RATE_HZ), list[Line]()
    place = int(chance.uniform(0.5, 3.0) * RATE_HZ)
    while True:
        words, speech = _line(chance, invented, next(speakers))
        if place + len(speech) > len(wave):
            return wave, tuple(lines)
        wave[place : place + len(speech)] += speech
        lines.append(Line(place / RATE_HZ, words))
        place += len(speech) + int(min(12.0, 0.15 + chance.expovariate(1 / 1.2)) * RATE_HZ)


def _line(chance: random.Random, invented: Iterator[str], voice: str) -> tuple[str, Wave]:
    kind = chance.random()
    if kind < HUMAN_SHARE and _people():
        item = chance.choice(_people())
        pace = chance.uniform(0.94, 1.06)
        heard = item.make()
        wave = soxr.resample(heard[spoken_span(heard)].astype(float), RATE_HZ * pace, RATE_HZ)
        words = f"({item.key})"
    else:
        is_fixed = kind < HUMAN_SHARE + FIXED_SHARE
        words = chance.choice((*TALK, *NEAR)) if is_fixed else next(invented)
        spoken = say(words, voice)
        wave = spoken[RATE_HZ // 2 - 800 : len(spoken) - RATE_HZ // 2 + 800].astype(float)
    return words, unit(wave) * 10 ** (chance.gauss(0.0, 3.0) / 20)


@lru_cache(2)
def _sound(source: str, number: int, snr_db: float) -> Samples:
    speech = _script(source, number)[0]
    is_noisy = snr_db < CLEAN_DB
    behind = 10 ** (-snr_db / 20) * _noises(number)[: len(speech)] if is_noisy else 0.0
    room = 10 ** (-CLEAN_DB / 20) * pink(len(speech), np.random.default_rng(number))
    return clipped(SPEECH_LEVEL * (speech + behind + room))


@lru_cache(2)
def _noises(number: int) -> Wave:
    """The noises of the place, half a minute each, each track beginning with another."""
    parts = [
        noise(NOISES[(number + n) % len(NOISES)], STRETCH_S * RATE_HZ, seed=100 * number + n)
        for n in range(TRACK_S // STRETCH_S)
    ]
    return np.concatenate(parts)
