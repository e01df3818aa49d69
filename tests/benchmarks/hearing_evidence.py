"""What the ears make of benchmark sound, kept so that decisions can be tried again.

An item is one utterance with its truth; its evidence (both listeners' findings) is
computed once a corpus, a noise and a level, and kept in the corpus folder.
"""

import hashlib
import pickle
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.cook.commands import Command
from assistant.ears.choice import Evidence
from assistant.ears.ears import Ears
from assistant.ears.heard import Samples
from assistant.ears.speech_end import spoken_span
from tests.benchmarks.corpus import FOLDER

VERSION = 4
"""Raise it when the listeners change: kept evidence is then computed anew."""


@dataclass(frozen=True)
class Item:
    """`make` gives the sound of one utterance; `truth` is the command, the words, or
    None for what must be refused. `group` is the voice or the kind of speaker."""

    key: str
    make: Callable[[], Samples]
    truth: Command | str | None
    group: str


@dataclass(frozen=True)
class Tried:
    """An item and what was heard of it."""

    item: Item
    evidence: Evidence


def tried(
    ears: Ears, items: Iterable[Item], tag: str, *, only_kept: bool = False
) -> Iterator[Tried]:
    """The evidence of every item, from the folder where it was kept before; with
    `only_kept`, items never listened to are left out."""
    for item in items:
        if not only_kept or _path(item, tag).is_file():
            yield Tried(item, _evidence(ears, item, tag))


def _path(item: Item, tag: str) -> Path:
    name = hashlib.sha256(f"{VERSION}|{tag}|{item.key}".encode()).hexdigest()[:24]
    return FOLDER / "evidence" / f"{name}.pickle"


def _evidence(ears: Ears, item: Item, tag: str) -> Evidence:
    path = _path(item, tag)
    if path.is_file():
        return _kept(path)
    samples = item.make()
    evidence = ears.listen(samples[spoken_span(samples)])
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(pickle.dumps(evidence))
    return evidence


def _kept(path: Path) -> Evidence:
    kept = pickle.loads(path.read_bytes())  # noqa: S301 -- written by this very module
    assert isinstance(kept, Evidence)
    return kept
