"""A damaged journal: found and located, kept as it is, and what can be read carried over."""

import contextlib
import errno
import itertools
import os
import shutil
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.cook.vocabulary.events import Recorded, WordsHeard
from assistant.journal import codec, snapshots, wal
from assistant.journal.database import reason
from assistant.journal.errors import DamagedJournalError, JournalError
from assistant.journal.learning import start_of
from assistant.journal.reader import CookInfo, JournalReader
from assistant.journal.store import Journal, hold
from assistant.system.files import sync_folder

MISSES = 1_000  # places looked at beyond the last event found, where a page is gone


@dataclass(frozen=True, slots=True)
class Rescued:
    """`kept` is the damaged file, untouched; the counts are what the new one holds
    and which events could not be read (placeholders stand for them). `behind`: events that
    only a mended log shows."""

    kept: Path
    cooks: int
    events: int
    unreadable: int
    behind: int = 0

    def __str__(self) -> str:
        behind = f"; {self.behind} lay behind the damage in its log" if self.behind else ""
        return (
            f"the journal was damaged: it is kept as {self.kept}, and {self.events} events of "
            f"{self.cooks} cooks were carried over; {self.unreadable} could not be read{behind}"
        )


def findings(path: Path) -> tuple[str, ...]:
    """What is wrong with a journal and where, one line each; empty if nothing is.

    Every page, every seal and every event is read.
    """
    found = list(_log_faults(path))
    try:
        with JournalReader(path) as reader:
            found += [f"the file: {one}" for one in reader.integrity()]
            for cook in reader.cooks():
                name = cook.name or cook.id[:8]
                faults = tuple(_faults(reader, cook))
                found += [f"cook {name}: {fault}" for fault in faults]
                if not faults and not snapshots.is_true(reader, cook.id, start_of(reader, cook.id)):
                    found.append(f"cook {name}: its kept state is not what its events make")
    except JournalError as error:
        return (*found, str(error))
    return tuple(found)


def _log_faults(path: Path) -> Iterator[str]:
    with _with_mended_log(path) as whole:
        if whole is not path:
            lost = _count(whole) - _count(path)
            yield f"the log: damaged; {lost} events recorded after that place are not seen"


def _faults(reader: JournalReader, cook: CookInfo) -> Iterator[str]:
    before = codec.first_seal(cook.id)
    for seq, row in enumerate(reader.rows(cook.id), 1):
        if row.seq != seq:
            yield f"event {seq} is missing"
            return
        if row.seal != codec.seal_after(before, row):
            yield f"event {seq} ({row.name!r}) is not what was written"
        else:
            try:
                codec.to_recorded(row)
            except JournalError as error:
                yield str(error)
        before = row.seal


def rescue(path: Path, *, at_s: float | None = None) -> Rescued:
    """Put the damaged journal aside under a new name and carry over what can be read.

    Events keep their places: where one cannot be read, a placeholder that is never part of
    the state stands in. Whatever stops this in the middle, the next start goes on with it:
    the damaged file stays until another, whole and synced, can take its place (`finish`).
    Raises `JournalError` where the disk does not take it.
    """
    part = path.with_name(f"{path.stem}-part{path.suffix}")
    with _explained(path):
        kept = copy_aside(path, "damaged")
        remove(part)
        with _with_mended_log(kept) as whole:
            carried = _carry_over(kept, whole, part, at_s)
        part.replace(_rescued(path))
        sync_folder(path.parent)
    finish(path)
    return carried


def mend(path: Path, *, at_s: float | None = None) -> Rescued | None:
    """`rescue` where anything is wrong, in whichever cook; None where nothing is.

    Raises `HeldError` while a cook is running, and `JournalError`.
    """
    lock = hold(path)
    try:
        finish(path)
        with contextlib.suppress(DamagedJournalError):
            wal.check(path)
            JournalReader(path).close()  # no journal of ours, or a newer one: told, left alone
        return rescue(path, at_s=at_s) if findings(path) else None
    finally:
        lock.release()


def finish(path: Path) -> None:
    """Let a rescued journal that is whole take the place of the damaged one, if one waits.
    Raises `JournalError`."""
    rescued = _rescued(path)
    if not rescued.exists():
        return
    with _explained(path):
        for log in ("-shm", "-wal"):  # the old one's must never be taken for the new one's
            Path(f"{path}{log}").unlink(missing_ok=True)
        sync_folder(path.parent)
        rescued.replace(path)
        sync_folder(path.parent)


@contextlib.contextmanager
def _explained(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        raise JournalError(
            f"the journal at {path} is damaged and cannot be rescued ({reason(error)}): "
            "free space there; it was left as it is"
        ) from error


def _rescued(path: Path) -> Path:
    return path.with_name(f"{path.stem}-rescued{path.suffix}")


@contextlib.contextmanager
def _with_mended_log(path: Path) -> Iterator[Path]:
    """The journal with a log that is read to its end: a copy, where that of `path` is not."""
    log = wal.read(path)
    if log is None or log.last is None:
        yield path
        return
    with tempfile.TemporaryDirectory(dir=path.parent, prefix=f".{path.stem}-") as folder:
        whole = Path(folder) / path.name
        shutil.copyfile(path, whole)
        Path(f"{whole}-wal").write_bytes(wal.mended(log))
        yield whole


def _count(path: Path) -> int:
    """The events that are seen in a journal; none in one that cannot be read."""
    with contextlib.suppress(JournalError), JournalReader(path) as journal:
        return sum(cook.events for cook in journal.cooks())
    return 0


def _carry_over(kept: Path, whole: Path, part: Path, at_s: float | None) -> Rescued:
    """Write what can be read of the damaged journal to `part`, a single synced file.
    `whole`: the same with all of its log."""
    behind = 0 if whole is kept else max(0, _count(whole) - _count(kept))
    settings: dict[str, Any] = {}
    readable: list[tuple[CookInfo, list[Recorded], int]] = []
    with contextlib.suppress(JournalError), JournalReader(whole) as damaged:
        settings = damaged.settings()
    with contextlib.suppress(JournalError), JournalReader(whole) as damaged:
        for cook in damaged.roster():
            recorded, bad = _readable(damaged, cook)
            readable.append((cook, recorded, bad))
    with Journal(part, at_s=at_s) as fresh:  # what cannot be written is not passed over
        for key, value in settings.items():
            fresh.set_setting(key, value)
        for cook, recorded, _ in readable:
            fresh.merge(cook, recorded)
    if Path(f"{part}-wal").exists():  # closing could not move the log into the file
        raise OSError(errno.EIO, f"{part.name} could not be written whole")
    Path(f"{part}.lock").unlink(missing_ok=True)
    unreadable = sum(bad for *_, bad in readable)
    events = sum(len(recorded) for _, recorded, _ in readable) - unreadable
    return Rescued(kept, len(readable), events, unreadable, behind)


def copy_aside(path: Path, why: str) -> Path:
    """A synced copy of a journal and its log under the first free name; the new path.

    A name is free where no log lies either: one left by a copy that was cut off would be
    read as the log of this one.
    """
    names = (path.with_name(f"{path.stem}-{why}-{n}{path.suffix}") for n in itertools.count(1))
    kept = next(one for one in names if not (one.exists() or Path(f"{one}-wal").exists()))
    for part in ("-wal", ""):
        with contextlib.suppress(FileNotFoundError), Path(f"{path}{part}").open("rb") as source:
            target = os.open(f"{kept}{part}", os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(target, "wb") as file:
                shutil.copyfileobj(source, file)
                file.flush()
                os.fsync(file.fileno())
    sync_folder(path.parent)
    return kept


def remove(path: Path) -> None:
    """Remove a journal, its main file last: until then a new start finds it."""
    for part in ("-shm", "-wal", ".lock", ""):
        Path(f"{path}{part}").unlink(missing_ok=True)


def _readable(damaged: JournalReader, cook: CookInfo) -> tuple[list[Recorded], int]:
    """The events up to the last that can be read, placeholders among them, and their number."""
    found: list[Recorded] = []
    gap = unreadable = 0
    before: bytes | None = codec.first_seal(cook.id)
    seq = 0
    while gap < MISSES:
        seq += 1
        row = _row(damaged, cook.id, seq)
        event = None if row is None else _event(row, before)
        before = None if row is None else row.seal
        if event is None:
            gap += 1
            continue
        last_s = found[-1].at_s if found else event.at_s
        found += [
            Recorded(seq - place, last_s, WordsHeard("", 0.0, "damaged"))
            for place in range(gap, 0, -1)
        ]
        found.append(event)
        unreadable, gap = unreadable + gap, 0
    return found, unreadable


def _row(damaged: JournalReader, cook_id: str, seq: int) -> codec.Row | None:
    with contextlib.suppress(JournalError):
        return damaged.row(cook_id, seq)
    return None


def _event(row: codec.Row, before: bytes | None) -> Recorded | None:
    """The event of a row; None if it is not what was written (as far as can be told)."""
    if before is not None and row.seal != codec.seal_after(before, row):
        return None
    with contextlib.suppress(JournalError):
        return codec.to_recorded(row)
    return None
