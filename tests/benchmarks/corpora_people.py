"""People's recordings with their words, half of the speakers for development."""

import csv
from dataclasses import dataclass
from pathlib import Path

from tests.benchmarks.corpus import RECORDINGS


@dataclass(frozen=True)
class Recorded:
    """One recording: its words in lower case ("" where nobody wrote them down)."""

    path: Path
    words: str
    speaker: str
    corpus: str


def recorded(corpus: str, *, development: bool = False) -> list[Recorded]:
    """The recordings of `corpus` (an4, readers, nonnative) by every other speaker: those
    for development, which the listener was fitted on, or the others. None without them."""
    table = RECORDINGS / corpus / "labels.tsv"
    if not table.is_file():
        return []
    with table.open(newline="") as file:
        rows = list(csv.DictReader(file, delimiter="\t"))
    speakers = sorted({row["speaker"] for row in rows})
    wanted = set(speakers[0 if development else 1 :: 2])
    return [
        Recorded(table.parent / row["file"], row["text"] or "", row["speaker"], corpus)
        for row in rows
        if row["speaker"] in wanted
    ]
