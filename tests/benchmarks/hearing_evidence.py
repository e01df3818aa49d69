"""What the ears make of benchmark sound, kept so that decisions can be tried again.

An item is one utterance with its truth. What was heard is kept in the corpus folder, so
that weights, limits and priors can change without listening anew.
"""

import hashlib
import os
import pickle
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path

from assistant.cook.vocabulary.commands import Command
from assistant.ears.ears import Ears
from assistant.ears.endpointer import spoken_span
from assistant.ears.evidence import Evidence
from assistant.ears.heard import Heard
from assistant.sound.samples import Samples
from tests.benchmarks.corpus import FOLDER
from tests.benchmarks.hearing_baseline import Baseline

VERSION = 15
"""Raise it when the recogniser changes: kept evidence is then computed anew."""


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

    def decided(self, ears: Ears, *, address_required: bool = False) -> Heard:
        """The ears' choice, with the prior they have now."""
        return ears.decide(self.evidence, address_required=address_required)


@dataclass(frozen=True)
class Bench:
    """Ears under test with the baseline beside them. `only_kept`: listen to nothing new."""

    ears: Ears
    baseline: Baseline
    tag: str
    only_kept: bool = False

    def close(self) -> None:
        """End what listened."""
        self.ears.close()
        self.baseline.close()

    def tried(self, items: Iterable[Item]) -> list[Tried]:
        """Every item heard by both."""
        return [
            replace(one, plain=_plain(self.baseline, one.item))
            for one in tried(self.ears, items, self.tag, only_kept=self.only_kept)
        ]


def tried(
    ears: Ears, items: Iterable[Item], tag: str, *, only_kept: bool = False
) -> Iterator[Tried]:
    """The evidence of every item, from the folder where it was kept before; with
    `only_kept`, items never listened to are left out."""
    for item in items:
        if not only_kept or _path(item.key, tag).is_file():
            hear = partial(_listened, ears, item)
            yield Tried(item, kept_evidence(item.key, tag, hear))


def _listened(ears: Ears, item: Item) -> Evidence:
    return ears.listen(utterance(item))


def utterance(item: Item) -> Samples:
    """The spoken span of an item's sound."""
    samples = item.make()
    return samples[spoken_span(samples)]


def _plain(baseline: Baseline, item: Item) -> str:
    kept = baseline.kept(item.key)
    return baseline.words(item.key, utterance(item)) if kept is None else kept


def kept_evidence(key: str, tag: str, hear: Callable[[], Evidence]) -> Evidence:
    """What `hear` gives, called once a key and tag."""
    path = _path(key, tag)
    if not path.is_file():
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(f".{os.getpid()}.part")
        part.write_bytes(pickle.dumps(hear()))
        part.replace(path)
    kept = pickle.loads(path.read_bytes())  # noqa: S301 -- written by this very module
    assert isinstance(kept, Evidence)
    return kept


def _path(key: str, tag: str) -> Path:
    name = hashlib.sha256(f"{VERSION}|{tag}|{key}".encode()).hexdigest()[:24]
    return FOLDER / "evidence" / f"{name}.pickle"
