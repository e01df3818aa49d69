"""What the ears make of benchmark sound, kept so that decisions can be tried again.

An item is one utterance with its truth; its evidence (both listeners' findings) is
computed once a corpus, a noise and a level, and kept in the corpus folder, and so is
what the baseline made of the same sound.
"""

import hashlib
import os
import pickle
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from assistant.cook.commands import Command
from assistant.ears.choice import Evidence
from assistant.ears.ears import Ears
from assistant.ears.heard import Samples
from assistant.ears.speech_end import spoken_span
from tests.benchmarks.corpus import FOLDER
from tests.benchmarks.hearing_baseline import Baseline

VERSION = 4
"""Raise it when the listeners change: kept evidence is then computed anew."""


@dataclass(frozen=True)
class Item:
    """`make` gives the sound of one utterance; `truth` is the command, the words, or
    None for what must be refused. `group` is the voice or the kind of speaker, `noise`
    the noise it is heard in."""

    key: str
    make: Callable[[], Samples]
    truth: Command | str | None
    group: str
    noise: str = ""


@dataclass(frozen=True)
class Tried:
    """An item and what was heard of it; `plain` are the baseline's words."""

    item: Item
    evidence: Evidence
    plain: str = ""


@dataclass(frozen=True)
class Bench:
    """Ears under test with the baseline beside them. `only_kept`: listen to nothing new."""

    ears: Ears
    baseline: Baseline
    tag: str
    only_kept: bool = False

    def tried(self, items: Iterable[Item]) -> list[Tried]:
        """Every item heard by both."""
        return [
            Tried(one.item, one.evidence, _plain(self.baseline, one.item))
            for one in tried(self.ears, items, self.tag, only_kept=self.only_kept)
        ]


def tried(
    ears: Ears, items: Iterable[Item], tag: str, *, only_kept: bool = False
) -> Iterator[Tried]:
    """The evidence of every item, from the folder where it was kept before; with
    `only_kept`, items never listened to are left out."""
    for item in items:
        if not only_kept or _path(item.key, tag).is_file():
            yield Tried(item, evidence_of(ears, item.key, tag, partial(_utterance, item)))


def _utterance(item: Item) -> Samples:
    samples = item.make()
    return samples[spoken_span(samples)]


def _plain(baseline: Baseline, item: Item) -> str:
    kept = baseline.kept(item.key)
    return baseline.words(item.key, _utterance(item)) if kept is None else kept


def evidence_of(ears: Ears, key: str, tag: str, make: Callable[[], Samples]) -> Evidence:
    """The evidence of the utterance that `make` gives, listened to once a key."""
    path = _path(key, tag)
    if path.is_file():
        return _kept(path)
    evidence = ears.listen(make())
    path.parent.mkdir(parents=True, exist_ok=True)
    part = path.with_suffix(f".{os.getpid()}.part")
    part.write_bytes(pickle.dumps(evidence))
    part.replace(path)
    return evidence


def _path(key: str, tag: str) -> Path:
    name = hashlib.sha256(f"{VERSION}|{tag}|{key}".encode()).hexdigest()[:24]
    return FOLDER / "evidence" / f"{name}.pickle"


def _kept(path: Path) -> Evidence:
    kept = pickle.loads(path.read_bytes())  # noqa: S301 -- written by this very module
    assert isinstance(kept, Evidence)
    return kept
