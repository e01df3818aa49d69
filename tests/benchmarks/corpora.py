"""The corpora of the hearing benchmark: items with their truth, all seeded."""

import json
import random
from collections.abc import Callable
from functools import cache, partial
from itertools import islice
from pathlib import Path

import numpy as np

from assistant.sound.files import read_sound
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpora_people import recorded
from tests.benchmarks.corpus import (
    AUDIOBOOKS,
    NATURAL,
    RECORDINGS,
    in_room,
    say,
    voices,
)
from tests.benchmarks.corpus_chatter import chatter
from tests.benchmarks.corpus_commands import commands, minimal_pairs
from tests.benchmarks.corpus_noise import NOISES, echoed, mixed
from tests.benchmarks.corpus_talk import NEAR, TALK
from tests.benchmarks.hearing_evidence import Item

DRINKS = Path(__file__).parent / "grammars" / "drinks.jsgf"
_DIGITS = ("zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
DEVELOPMENT, TEST = 7, 11
"""Seeds: weights are fitted on the first, figures are given for the second."""
MOST = 200
"""Sentences a corpus has at most."""


def orders(count: int, *, development: bool = False) -> list[Item]:
    """Human drink orders; every other file is development data. Truth: the slots."""
    folder = RECORDINGS / "coffee"
    if not folder.is_dir():
        return []
    labels: dict[str, dict[str, str]] = json.loads((folder / "labels.json").read_text())
    names = sorted(labels)[0 if development else 1 :: 2][:count]
    return [
        Item(
            f"order {name}",
            partial(_recording, folder / name),
            json.dumps(labels[name], sort_keys=True),
            "human",
        )
        for name in names
    ]


def spoken_commands(count: int, seed: int, wanted: tuple[str, ...] = NATURAL) -> list[Item]:
    """The cook's commands, each voice in turn."""
    return [
        Item(f"{s.voice}|{s.words}", partial(say, s.words, s.voice), s.command, s.voice)
        for s in commands(count, voices(wanted), seed)
    ]


def number_pairs(count: int, seed: int) -> list[Item]:
    """Minimal pairs of numbers from 113 to 219."""
    return [
        Item(f"{s.voice}|{s.words}", partial(say, s.words, s.voice), s.command, s.voice)
        for s in minimal_pairs(count, voices(NATURAL), seed)
    ]


def spoken_sentences(count: int = MOST) -> frozenset[str]:
    """All words said in the corpora of both seeds with up to `count` sentences each: what
    no listener may be trained on. (A sentence of a corpus does not depend on its size.)"""
    said = {*TALK, *NEAR}
    for seed in (DEVELOPMENT, TEST):
        said |= {s.words for s in commands(count, NATURAL, seed)}
        said |= {s.words for s in minimal_pairs(count, NATURAL, seed)}
    return frozenset(said)


def talk(count: int, seed: int) -> list[Item]:
    """Invented table talk of the fixed list, each sentence in some voice."""
    rng = random.Random(seed)
    spoken = voices(NATURAL)
    sentences = rng.sample((*TALK, *NEAR), min(count, len(TALK) + len(NEAR)))
    return [_spoken_item(words, rng.choice(spoken)) for words in sentences]


def invented_talk(count: int, seed: int) -> list[Item]:
    """Table talk from templates, each voice in turn; for development there is no end of it,
    and none of it is in the fixed list that is tested."""
    spoken = voices(NATURAL)
    said = enumerate(islice(chatter(seed), count))
    return [_spoken_item(words, spoken[n % len(spoken)]) for n, words in said]


def _spoken_item(words: str, voice: str) -> Item:
    return Item(f"{voice}|{words}", partial(say, words, voice), None, voice)


def human_talk(count: int, *, development: bool = False) -> list[Item]:
    """People who speak of something else: drink orders, and for the test alone, since
    there are few, audiobook clips and names of cards; `count` of each at most."""
    clips = sorted([*AUDIOBOOKS.glob("librivox/*.wav"), *AUDIOBOOKS.glob("cards/*.wav")])
    cut = [
        Item(f"{clip.name} {start}", partial(_stretch, clip, start, 4), None, "human")
        for clip in clips
        for start in range(0, 24, 4)
        if start + 1 < len(_recording(clip)) / RATE_HZ
    ]
    said = [Item(o.key, o.make, None, o.group) for o in orders(count, development=development)]
    return said if development else said + cut[:count]


def strangers_talk(count: int) -> list[Item]:
    """Book readers and non-native speakers whom no listener was fitted on."""
    heard = [*recorded("readers"), *recorded("nonnative")][:count]
    return [Item(one.path.name, partial(_recording, one.path), None, "human") for one in heard]


def digit_strings(count: int, seed: int) -> list[Item]:
    """Human digits, three in a row, read as a temperature of a bird would be; 8 kHz."""
    folder = RECORDINGS / "digits"
    rng = random.Random(seed)
    found = []
    for n in range(count if folder.is_dir() else 0):
        speaker = ("george", "jackson", "lucas")[n % 3]
        number = [1, *rng.choices(range(10), k=2)]
        names = [folder / f"{digit}_{speaker}_{rng.randrange(8)}.wav" for digit in number]
        words = " ".join(_DIGITS[d] for d in number)
        found.append(
            Item(" ".join(path.name for path in names), partial(_joined, names, n), words, speaker)
        )
    return found


def in_noise(items: list[Item], snr_db: float, noises: tuple[str, ...] = NOISES) -> list[Item]:
    """The same items in noise, each noise in turn."""
    changed = []
    for n, item in enumerate(items):
        noise = noises[n % len(noises)]
        change = partial(mixed, noise=noise, snr_db=snr_db, seed=n)
        changed.append(_changed(item, f"{noise} {snr_db} #{n}", change, noise))
    return changed


def in_yard(items: list[Item]) -> list[Item]:
    """The same items with the echo of a hard-walled yard."""
    return [_changed(item, "echo", partial(echoed, seed=n)) for n, item in enumerate(items)]


def _changed(item: Item, tag: str, change: Callable[[Samples], Samples], noise: str = "") -> Item:
    key = f"{item.key} @ {tag}"
    return Item(key, lambda: change(item.make()), item.truth, item.group, noise)


@cache
def _recording(path: Path) -> Samples:
    return read_sound(path)


def _stretch(path: Path, start_s: int, length_s: int) -> Samples:
    return _recording(path)[start_s * RATE_HZ : (start_s + length_s) * RATE_HZ]


def _joined(paths: list[Path], seed: int) -> Samples:
    gap = np.zeros(int(0.08 * RATE_HZ), np.int16)
    parts = [part for path in paths for part in (_recording(path), gap)]
    return in_room(np.concatenate(parts), seed)
