"""When the disk fails, the cook goes on in memory, says so, and comes back to disk."""

import itertools
import os
import stat
from collections.abc import Iterator
from pathlib import Path

import apsw
import pytest

from assistant.cook.vocabulary import events as ev
from assistant.journal import resilient
from assistant.journal.errors import HeldError, JournalError
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from tests.reliability.storage import Faulty

BEGAN_S = 1_760_000_000.0
_NAMES = itertools.count()


@pytest.fixture
def storage() -> Iterator[Faulty]:
    faulty = Faulty(f"faulty-{next(_NAMES)}")
    yield faulty
    faulty.unregister()


def kinds(journal: ResilientJournal) -> list[str]:
    return [news.kind for news in journal.news()]


def test_a_full_disk_is_told_once_and_again_when_all_is_on_disk(
    tmp_path: Path, storage: Faulty
) -> None:
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        cook = journal.begin("family dinner", BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        storage.arm(1, apsw.FullError, lasting=True, only="write")
        at_s = BEGAN_S
        for _ in range(5):
            at_s += resilient.RETRY_S
            journal.append(cook, at_s, [ev.LidOpened()])
        assert not journal.is_safe
        assert kinds(journal) == ["memory_only"]
        assert len(journal.events(cook)) == 6
        storage.arm(0, apsw.FullError)
        journal.retry(at_s + 1.0)
        assert not journal.is_safe, "not tried again at once"
        journal.retry(at_s + resilient.RETRY_S)
        assert journal.is_safe
        assert kinds(journal) == ["safe_again"]
        journal.append(cook, at_s + 60.0, [ev.LidClosed()])
        expected = journal.events(cook)
    assert (tmp_path / "journal-fresh-1.db").exists()
    with ResilientJournal.open(path, at_s=at_s) as journal:
        waiting = journal.unfinished()
        assert waiting is not None
        assert journal.resume(waiting.id) == expected
    assert sorted(one.name for one in tmp_path.glob("*.db")) == ["journal.db"]


def test_a_fresh_file_is_for_its_owner_only(
    tmp_path: Path, storage: Faulty, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Itself, its log and its lock, from the first moment and under a mask that hides nothing."""
    monkeypatch.setattr(Path, "chmod", lambda *_: None)
    before = os.umask(0)
    try:
        path = tmp_path / "journal.db"
        with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
            cook = journal.begin(None, BEGAN_S)
            storage.arm(1, apsw.IOError, only="sync")
            journal.append(cook, BEGAN_S, [ev.LidOpened()])
            journal.append(cook, BEGAN_S, [ev.LidClosed()])
            modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in tmp_path.iterdir()}
    finally:
        os.umask(before)
    assert {"journal-fresh-1.db", "journal-fresh-1.db-wal", "journal-fresh-1.db.lock"} <= set(modes)
    assert set(modes.values()) == {0o600}


def test_a_failed_sync_is_never_tried_again_on_the_same_file(
    tmp_path: Path, storage: Faulty
) -> None:
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        cook = journal.begin(None, BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        before = path.read_bytes(), (tmp_path / "journal.db-wal").read_bytes()
        storage.arm(1, apsw.IOError, only="sync")
        journal.append(cook, BEGAN_S + 1.0, [ev.LidOpened()])
        assert kinds(journal) == ["moved"]
        assert journal.is_safe
        journal.append(cook, BEGAN_S + 2.0, [ev.LidClosed()])
        expected = journal.events(cook)
    assert path.read_bytes() == before[0]
    assert (tmp_path / "journal.db-wal").read_bytes().startswith(before[1])
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        assert journal.resume(cook) == expected


def test_all_that_happened_in_memory_is_saved_also_of_the_cook_before(
    tmp_path: Path, storage: Faulty
) -> None:
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        storage.arm(1, apsw.FullError, lasting=True, only="write")
        first = journal.begin("lunch", BEGAN_S)
        one = journal.append(first, BEGAN_S, [ev.FireStarted(), ev.CookEnded()])
        second = journal.begin("dinner", BEGAN_S)
        two = journal.append(second, BEGAN_S, [ev.FireStarted()])
        storage.arm(0, apsw.FullError)
        journal.retry(BEGAN_S + resilient.RETRY_S)
        assert journal.is_safe
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        assert journal.events(first) == one
        assert journal.events(second) == two
        assert [cook.name for cook in journal.cooks()] == ["lunch", "dinner"]


def test_a_cook_is_resumed_while_the_disk_is_still_full(tmp_path: Path, storage: Faulty) -> None:
    """The fresh file could not be merged, so it is gone on with, and merged later."""
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        cook = journal.begin(None, BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        storage.arm(1, apsw.IOError, only="sync")
        journal.append(cook, BEGAN_S, [ev.LidOpened()])
    storage.arm(1, apsw.FullError, lasting=True, only="write")
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        waiting = journal.unfinished()
        assert waiting is not None
        assert len(journal.resume(waiting.id)) == 2
        journal.append(cook, BEGAN_S, [ev.LidClosed()])
        assert kinds(journal) == ["memory_only"]
        storage.arm(0, apsw.FullError)
        journal.retry(BEGAN_S + resilient.RETRY_S)
        assert kinds(journal) == ["safe_again"]
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        assert [entry.event for entry in journal.resume(cook)] == [
            ev.FireStarted(), ev.LidOpened(), ev.LidClosed(),
        ]  # fmt: skip
    assert sorted(one.name for one in tmp_path.glob("*.db")) == ["journal.db"]


def test_the_lock_stays_held_when_a_fresh_file_has_taken_over(
    tmp_path: Path, storage: Faulty
) -> None:
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        cook = journal.begin(None, BEGAN_S)
        storage.arm(1, apsw.IOError, only="sync")
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        with pytest.raises(HeldError):
            Journal(path)


def test_a_fresh_file_that_does_not_fit_is_left_aside_and_told(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    with Journal(path) as main, Journal(tmp_path / "journal-fresh-1.db") as fresh:
        for journal, event in ((main, ev.LidOpened()), (fresh, ev.LidClosed())):
            journal.begin("x", BEGAN_S, "abc")
            journal.append("abc", BEGAN_S, [event])
    with ResilientJournal.open(path, at_s=BEGAN_S) as opened:
        assert kinds(opened) == ["aside"]
        assert opened.resume("abc")[0].event == ev.LidOpened()
    assert (tmp_path / "journal-fresh-1.db").exists()


def test_learned_values_of_a_fresh_file_are_merged_too(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    with Journal(tmp_path / "journal-fresh-1.db") as fresh:
        fresh.set_setting("kitchen", [1, 2])
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        assert journal.setting("kitchen") == [1, 2]


def test_only_the_running_cook_takes_events(tmp_path: Path) -> None:
    with ResilientJournal.open(tmp_path / "journal.db", at_s=BEGAN_S) as journal:
        journal.begin("x", BEGAN_S)
        with pytest.raises(JournalError, match="not the one that is running"):
            journal.append("other", BEGAN_S, [ev.FireStarted()])


def test_what_cannot_be_stored_is_refused_in_memory_as_on_disk(
    tmp_path: Path, storage: Faulty
) -> None:
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S, vfs=storage.name) as journal:
        cook = journal.begin(None, BEGAN_S)
        storage.arm(1, apsw.FullError, lasting=True, only="write")
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        with pytest.raises(JournalError, match="cannot be recorded"):
            journal.append(cook, BEGAN_S, [ev.Held(float("inf"))])
        assert len(journal.events(cook)) == 1
