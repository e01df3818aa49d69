"""Every storage call fails once: python -m tests.reliability.faults

An evening is lived again and again; each time another call fails, once or from
then on, in SQLite's storage layer or below it in the system. What was
acknowledged as safe must be there when the disk works again, what was not must
have been told, and nothing may stop the evening.
"""

import contextlib
import errno
import itertools
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from unittest import mock

import apsw

from assistant.cook.vocabulary.events import Recorded
from assistant.journal import database
from assistant.journal.errors import JournalError
from assistant.journal.resilient import RETRY_S, ResilientJournal
from tests.reliability.crash_images import BEGAN_S, COOK, evening, memory_folder
from tests.reliability.storage import Faulty, failing_calls

ERRORS: tuple[type[apsw.Error], ...] = (apsw.FullError, apsw.IOError, apsw.ReadOnlyError)
# Not among them: fcntl, by which SQLite locks; it waits seconds for a lock that fails.
CALLS = ("open", "pread64", "pwrite64", "ftruncate", "unlink", "mmap", "fstat")
ERRNOS = (errno.ENOSPC, errno.EIO, errno.EROFS, errno.EINTR)
MOST = 400  # calls an evening may make; more means that a loop does not end

Fault = Callable[[int], AbstractContextManager[object]]


@dataclass(slots=True)
class Tally:
    """What was tried and what came of it."""

    runs: int = 0
    refused_at_start: int = 0
    kept_in_memory: int = 0
    lost: list[str] = field(default_factory=list)


@dataclass(slots=True)
class Lived:
    """One evening: what was recorded, how much of it was acknowledged as safe, the news."""

    recorded: list[Recorded] = field(default_factory=list)
    safe: int = 0
    is_safe: bool = True
    told: list[str] = field(default_factory=list)


def live(path: Path, vfs: str = "") -> Lived | None:
    """Live through an evening; None if the journal could not be opened at all."""
    lived = Lived()
    try:
        journal = ResilientJournal.open(path, at_s=BEGAN_S, vfs=vfs)
    except JournalError:
        return None
    with journal:
        journal.begin("family dinner", BEGAN_S, COOK)
        for number, batch in enumerate(evening()):
            lived.recorded += journal.append(COOK, BEGAN_S + number * RETRY_S, batch)
            lived.told += [news.kind for news in journal.news()]
            if journal.is_safe:
                lived.safe = len(lived.recorded)
        lived.is_safe = journal.is_safe
    return lived


def judge(path: Path, lived: Lived | None) -> str | None:
    """What is wrong when the disk works again; None if nothing is."""
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        known = any(cook.id == COOK for cook in journal.cooks())
        found = journal.resume(COOK) if known else ()
        told = [news.kind for news in journal.news()]
    if lived is None:
        return "an event came from nowhere" if found else None
    if told:
        return f"the next start had to tell {told}"
    if found != tuple(lived.recorded[: len(found)]):
        return "holds something that was never recorded"
    if len(found) < lived.safe:
        return f"holds {len(found)} of {lived.safe} facts that were acknowledged as safe"
    if not lived.is_safe and (not lived.told or lived.told[-1] != "memory_only"):
        return "was not safe and did not say so"
    return None


def try_all(tally: Tally, name: str, fault: Fault, vfs: str = "", *, step: int = 1) -> None:
    """Fail call 1, 1 + step, ... until an evening makes no more calls than that."""
    for nth in itertools.count(1, step):
        with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
            path = Path(folder) / "journal.db"
            with fault(nth) as calls:
                lived = live(path, vfs)
            if not getattr(calls, "failed", 0):
                return
            tally.runs += 1
            tally.refused_at_start += lived is None
            tally.kept_in_memory += lived is not None and not lived.is_safe
            if (wrong := judge(path, lived)) is not None:
                tally.lost.append(f"{name}, call {nth}: {wrong}")
        if nth > MOST:
            tally.lost.append(f"{name}: more than {MOST} calls")
            return


def storage_faults(storage: Faulty) -> Iterator[tuple[str, Fault]]:
    """Faults of SQLite's storage layer, among them syncs, which no system call table has."""
    for error, lasting in itertools.product(ERRORS, (False, True)):
        yield (
            f"{error.__name__} {'from then on' if lasting else 'once'}",
            partial(_armed, storage, error, lasting),
        )


@contextlib.contextmanager
def _armed(storage: Faulty, error: type[apsw.Error], lasting: bool, nth: int) -> Iterator[Faulty]:
    storage.arm(nth, error, lasting=lasting)
    yield storage
    storage.fail_at = 0


def system_faults() -> Iterator[tuple[str, Fault]]:
    """Faults of the system calls under SQLite. An interrupted call is never lasting."""
    for call, number, lasting in itertools.product(CALLS, ERRNOS, (False, True)):
        if lasting and number == errno.EINTR:
            continue

        yield (
            f"{call} {errno.errorcode[number]} {'from then on' if lasting else 'once'}",
            partial(failing_calls, call, error=number, lasting=lasting),
        )


def run(*, step: int = 1) -> Tally:
    """All faults; `step` above 1 tries every so-manieth call only."""
    tally = Tally()
    storage = Faulty("faulty-storage")
    # A failing lock looks like a busy file: do not wait for it to come free.
    with mock.patch.object(database, "BUSY_MS", 0):
        for name, fault in storage_faults(storage):
            try_all(tally, name, fault, storage.name, step=step)
        for name, fault in system_faults():
            try_all(tally, name, fault, step=step)
    storage.unregister()
    return tally


def main() -> int:
    """Print what was tried and what was lost; 1 if anything was."""
    tally = run()
    for line in tally.lost[:40]:
        print(line)
    print(
        f"{tally.runs} evenings with a failing call: {tally.refused_at_start} were refused at the "
        f"start, {tally.kept_in_memory} ended in memory and said so, {len(tally.lost)} lost "
        "something or stopped"
    )
    return 1 if tally.lost else 0


if __name__ == "__main__":
    sys.exit(main())
