"""Every power cut of a rescue: python -m tests.reliability.rescues

A journal of an unfinished cook, part of it still in the log, has one damaged event. It is
started on, with somebody watching it; each step of the rescue on the disk is recorded,
SQLite's and the program's own. From every disk that a power cut could leave, the next start
must go on with all the other events, and a copy that holds all the damaged file held must
lie there.
"""

import random
import sqlite3
import sys
import tempfile
from collections.abc import Sequence
from contextlib import closing, suppress
from functools import partial
from pathlib import Path
from unittest import mock

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.events import Recorded
from assistant.journal import database, store
from assistant.journal.errors import JournalError
from assistant.journal.reader import JournalReader
from assistant.journal.rescue import findings
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from tests.reliability.crash_images import BEGAN_S, COOK, Outcome, evening, memory_folder
from tests.reliability.disk import Image, images, lay_out
from tests.reliability.plain_files import recorded as recorded_files
from tests.reliability.storage import Recorder, Step

DAMAGED = 7  # the event that cannot be read
NAME = "journal.db"
Rows = list[tuple[object, ...]]


def damaged_journal() -> tuple[Image, Rows, list[Recorded]]:
    """The files of a journal with one damaged event, left by a kill; its rows; what it
    should be gone on with."""
    kept: list[Recorded] = []
    with tempfile.TemporaryDirectory(dir=memory_folder()) as name, Journal(
        Path(name) / NAME, at_s=BEGAN_S
    ) as journal:  # fmt: skip
        journal.begin("family dinner", BEGAN_S, COOK)
        for number, batch in enumerate(evening()[:-2]):
            kept += journal.append(COOK, BEGAN_S + 60.0 * number, batch)
            if number == 4:
                journal._database.wal_checkpoint()
        journal._database.execute("UPDATE events SET slots = '{}' WHERE seq = ?", (DAMAGED,))
        files = {one: (Path(name) / one).read_bytes() for one in (NAME, f"{NAME}-wal")}
        held = rows(Path(name) / NAME)
    hole = ev.WordsHeard("", 0.0, "damaged")
    kept[DAMAGED - 1] = Recorded(DAMAGED, kept[DAMAGED - 2].at_s, hole)
    return files, held, kept


def record(before: Image) -> tuple[list[Step], str | None]:
    """Start on the damaged journal once: the steps on the disk, and what was wrong then."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as name:
        folder = Path(name)
        lay_out(before, folder)
        for one in folder.iterdir():
            one.chmod(0o600)
        recorder = Recorder("recorded-rescue")
        opening = partial(database.open_to_write, vfs=recorder.name)
        try:
            with (
                mock.patch.object(database, "open_to_write", lambda path, _: opening(path)),
                JournalReader(folder / NAME),  # so that closing leaves the log as it is
                recorded_files(folder, recorder.steps),
            ):
                start(folder)
        except AssertionError as error:
            return recorder.steps, str(error)
        finally:
            recorder.unregister()
        return recorder.steps, None


def start(folder: Path) -> tuple[Recorded, ...]:
    """What the program goes on with when it is started on this folder."""
    with ResilientJournal.open(folder / NAME, at_s=BEGAN_S) as journal:
        waiting = journal.unfinished()
        return journal.resume(waiting.id) if waiting else ()


def check(image: Image, damaged: Rows, expected: Sequence[Recorded]) -> str | None:
    """What is wrong with the start on a disk that a power cut left; None if nothing is."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as name:
        folder = Path(name)
        lay_out(image, folder)
        try:
            found = start(folder)
            faults = findings(folder / NAME)
        except JournalError as error:
            return f"does not start: {error}"
        copies = [rows(copy) for copy in folder.glob("journal-damaged-*.db")]
    if found != tuple(expected):
        return f"goes on with {len(found)} events of {len(expected)}"
    if faults:
        return f"still damaged: {faults[0]}"
    return None if damaged in copies else "no copy of the damaged journal holds all it held"


def rows(path: Path) -> Rows:
    """Every row of events as it lies in a file, damaged or not; none if it cannot be read."""
    with closing(sqlite3.connect(path)) as connection, suppress(sqlite3.DatabaseError):
        return connection.execute("SELECT seq, at_s, name, slots, seal FROM events").fetchall()
    return []


def run(seed: int = 1, *, first_only: bool = False) -> Outcome:
    """Check every image. `first_only` stops at the first loss (for mutants)."""
    before, held, expected = damaged_journal()
    with mock.patch.object(store, "CHECKPOINT_PAGES", 12):
        steps, wrong = record(before)
    lost = [] if wrong is None else [wrong]
    number = 0
    for _, how, image in images(steps, chance=random.Random(seed), before=before):
        if first_only and lost:
            break
        number += 1
        if (fault := check(image, held, expected)) is not None:
            lost.append(f"{how}: {fault}")
    return Outcome(len(steps), number, len(expected), tuple(lost))


def main() -> int:
    """Print what was tried and what was lost; 1 if anything was."""
    outcome = run()
    for line in outcome.lost[:20]:
        print(line)
    print(
        f"{outcome.points} crash points, {outcome.images} disk images of the rescue of a journal "
        f"with {outcome.facts} facts: {len(outcome.lost)} images lost facts or did not start"
    )
    return 1 if outcome.lost else 0


if __name__ == "__main__":
    sys.exit(main())
