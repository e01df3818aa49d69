"""Hostile journals and imports: what can be read is carried over, and nothing is invented."""

import contextlib
import sqlite3
import tempfile
from contextlib import closing
from functools import lru_cache
from pathlib import Path
from typing import Any

from assistant.cook.vocabulary import events as ev
from assistant.journal import jsonl
from assistant.journal.errors import JournalError
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from tests.journal.make_fixture import every_event
from tests.reliability.crash_images import memory_folder
from tests.reliability.hostile_inputs import flips, is_one_line

KEPT = "abc"  # the id of the cook in the good files


def check_jsonl(data: bytes) -> None:
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "cook.jsonl"
        path.write_bytes(data)
        with Journal(Path(folder) / "journal.db") as journal:
            try:
                jsonl.bring_in(journal, path)
            except JournalError as error:
                is_one_line(str(error))
                return
            assert journal.integrity() == ()


def check_journal_file(data: bytes) -> None:
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "journal.db"
        path.write_bytes(data)
        must_be_there = _as_written(data)
        try:
            with ResilientJournal.open(path, at_s=0.0) as journal:
                known = any(cook.id == KEPT for cook in journal.cooks())
                events = journal.resume(KEPT) if known else ()
        except JournalError as error:
            is_one_line(str(error))
            assert _as_written(path.read_bytes()) == must_be_there, "refused, and not left there"
            return
        written = _kept_events()
        for entry in events:
            is_placeholder = isinstance(entry.event, ev.WordsHeard) and not entry.event.words
            assert is_placeholder or entry.event == written[entry.seq - 1]
        there = {entry.seq for entry in events if entry.event == written[entry.seq - 1]}
        assert there >= must_be_there, f"{must_be_there - there} can be read, were not carried over"


def _as_written(data: bytes) -> set[int]:
    """The events that plain SQLite still reads in a file just as they were written, and the
    one before them too, by which they are known to be ours; none where the cook itself is
    not found."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "damaged.db"
        path.write_bytes(data)
        with closing(sqlite3.connect(path)) as connection:
            if (KEPT,) not in _read(connection, "SELECT id FROM cooks NOT INDEXED"):
                return set()
            found = [row for n in range(len(_rows())) for row in _read(connection, _ROW, n + 1)]
    same = {0} | {row[0] for row in found if row in _rows()}
    return {seq for seq in same if seq and seq - 1 in same}


_ROW = "SELECT seq, at_s, name, slots, seal FROM events WHERE cook = 1 AND seq = ?"


def _read(connection: sqlite3.Connection, sql: str, *values: int) -> list[tuple[Any, ...]]:
    with contextlib.suppress(sqlite3.DatabaseError, UnicodeDecodeError):
        return connection.execute(sql, values).fetchall()
    return []


@lru_cache(maxsize=1)
def _rows() -> list[tuple[Any, ...]]:
    """The rows of events as they were written."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "written.db"
        path.write_bytes(_journal())
        with closing(sqlite3.connect(path)) as connection:
            return _read(connection, "SELECT seq, at_s, name, slots, seal FROM events")


@lru_cache(maxsize=1)
def _exported() -> bytes:
    return _kept(".jsonl")


@lru_cache(maxsize=1)
def _journal() -> bytes:
    return _kept(".db")


def _kept_events() -> list[ev.Event]:
    """One of every event, and the end taken back: the cook is unfinished."""
    events = every_event()
    return [*events, ev.Undone(1 + events.index(ev.CookEnded()))]


def _kept(suffix: str) -> bytes:
    """A journal with one of every event, unfinished, or its export."""
    with tempfile.TemporaryDirectory(dir=memory_folder()) as folder:
        path = Path(folder) / "kept.db"
        with Journal(path) as journal:
            cook = journal.begin("kept", 1.0, KEPT)
            journal.append(cook, 2.0, _kept_events())
            jsonl.export(journal, journal.cooks(), path.with_suffix(".jsonl"))
        return path.with_suffix(suffix).read_bytes()


TARGETS = (
    flips("imports", _exported, check_jsonl),
    flips("journals", _journal, check_journal_file),
)
