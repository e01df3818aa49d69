"""Damage is found and located; what can be read is carried over, and nothing is thrown away."""

import errno
import os
import random
import stat
from pathlib import Path

import apsw
import pytest

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Said
from assistant.cook.vocabulary.events import Recorded
from assistant.journal import rescue
from assistant.journal.errors import DamagedJournalError, JournalError, WriteError
from assistant.journal.reader import JournalReader
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal

BEGAN_S = 1_760_000_000.0


def filled(path: Path, events: int = 60) -> tuple[str, tuple[Recorded, ...]]:
    with Journal(path) as journal:
        cook = journal.begin("family dinner", BEGAN_S)
        for number in range(events):
            event = ev.GrillRead(350.0 + number, Said(350.0 + number, "F"))
            journal.append(cook, BEGAN_S + number, [event])
        journal.set_setting("kitchen", 7)
        return cook, journal.events(cook)


def meddle(path: Path, sql: str) -> None:
    connection = apsw.Connection(str(path))
    connection.execute(sql)
    connection.close()


@pytest.mark.parametrize(
    ("sql", "finding"),
    [
        ("UPDATE events SET slots = '{}' WHERE seq = 17", "event 17 ('grill_reading')"),
        ("UPDATE events SET at_s = at_s + 1 WHERE seq = 1", "event 1 ('grill_reading')"),
        ("UPDATE events SET name = 'undo' WHERE seq = 60", "event 60 ('undo')"),
        ("DELETE FROM events WHERE seq = 17", "event 17 is missing"),
    ],
)
def test_a_changed_or_missing_event_is_located(tmp_path: Path, sql: str, finding: str) -> None:
    path = tmp_path / "journal.db"
    cook, _ = filled(path)
    assert rescue.findings(path) == ()
    meddle(path, sql)
    found = rescue.findings(path)
    assert len(found) == 1
    assert found[0].startswith(f"cook family dinner: {finding}")
    with Journal(path) as journal, pytest.raises(DamagedJournalError, match="turnspit check"):
        journal.events(cook)


def test_after_a_rescue_only_the_damaged_events_are_placeholders(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    cook, before = filled(path)
    meddle(path, "UPDATE events SET slots = '{}' WHERE seq = 17")
    meddle(path, "DELETE FROM events WHERE seq IN (30, 31)")
    damaged = path.read_bytes()
    rescued = rescue.rescue(path)
    assert rescued.kept.read_bytes() == damaged
    assert (rescued.cooks, rescued.events, rescued.unreadable) == (1, 57, 3)
    with Journal(path) as journal:
        after = journal.events(cook)
        assert journal.setting("kitchen") == 7
    assert len(after) == 60
    for old, new in zip(before, after, strict=True):
        if old.seq in {17, 30, 31}:
            assert isinstance(new.event, ev.WordsHeard)
        else:
            assert new == old
    assert rescue.findings(path) == ()


def test_a_damaged_page_costs_only_its_own_events(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    cook, before = filled(path, events=600)
    content = bytearray(path.read_bytes())
    target = content.index(b'{"temperature":650.0')
    page = target // 4096 * 4096
    content[page : page + 4096] = bytes(4096)
    path.write_bytes(content)
    assert rescue.findings(path)
    rescued = rescue.rescue(path)
    with Journal(path) as journal:
        after = journal.events(cook)
    kept = {entry.seq for entry in after if isinstance(entry.event, ev.GrillRead)}
    assert 500 < len(kept) < 600
    assert rescued.events == len(kept)
    assert all(after[entry.seq - 1] == entry for entry in before if entry.seq in kept)


def test_a_file_that_is_no_database_is_kept_and_a_new_journal_begun(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    path.write_bytes(b"gravy " * 1000)
    with pytest.raises(DamagedJournalError, match="is damaged"):
        Journal(path)
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        (news,) = journal.news()
        assert news.kind == "rescued"
        assert journal.cooks() == ()
    assert (tmp_path / "journal-damaged-1.db").read_bytes() == b"gravy " * 1000


def test_a_damaged_cook_is_resumed_from_what_can_be_read(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    cook, before = filled(path)
    meddle(path, "UPDATE events SET slots = '{}' WHERE seq = 17")
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        resumed = journal.resume(cook)
        assert [news.kind for news in journal.news()] == ["rescued"]
        assert [a == b for a, b in zip(resumed, before, strict=True)].count(False) == 1
        journal.append(cook, BEGAN_S + 100.0, [ev.LidOpened()])
    with Journal(path) as reopened:
        assert len(reopened.events(cook)) == 61


def test_any_damaged_byte_is_survived_and_never_invents_an_event(tmp_path: Path) -> None:
    """Bytes all over the file flipped in turn: the journal opens or is rescued, and every
    event that it then holds is the one that was written at that place."""
    path = tmp_path / "journal.db"
    cook, before = filled(path, events=40)
    whole = path.read_bytes()
    chance = random.Random(5)
    for place in range(0, len(whole), 180):
        content = bytearray(whole)
        content[place] ^= 1 << chance.randrange(8)
        for one in tmp_path.iterdir():
            one.unlink()
        path.write_bytes(content)
        try:
            with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
                known = any(one.id == cook for one in journal.cooks())
                events = journal.resume(cook) if known else ()
        except JournalError as error:
            # The few bytes that say what the file is: refused, and left as it was.
            assert place < 100, str(error)  # noqa: PT017
            assert path.read_bytes()[:100] == content[:100]
            continue
        for entry in events:
            assert isinstance(entry.event, ev.WordsHeard) or entry == before[entry.seq - 1]


def test_a_copy_aside_holds_what_is_only_in_the_log_and_is_for_its_owner_only(
    tmp_path: Path,
) -> None:
    """Taken while the log was not yet moved into the main file, as after a crash."""
    path = tmp_path / "journal.db"
    with Journal(path) as journal:
        cook = journal.begin("dinner", BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.FireStarted(), ev.LidOpened()])
        kept = rescue.copy_aside(path, "damaged")
    for one in (kept, Path(f"{kept}-wal")):
        assert stat.S_IMODE(one.stat().st_mode) == 0o600
    with JournalReader(kept) as reader:
        assert len(reader.events(cook)) == 2


def test_a_rescue_that_the_disk_does_not_take_leaves_the_damaged_journal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Full while the events are carried over, and later not: nothing was passed over."""
    path = tmp_path / "journal.db"
    cook, before = filled(path)
    meddle(path, "UPDATE events SET slots = '{}' WHERE seq = 17")
    with monkeypatch.context() as full:

        def merge(*_: object) -> int:
            raise WriteError("the disk is full")

        full.setattr(Journal, "merge", merge)
        with ResilientJournal.open(path, at_s=BEGAN_S) as journal, pytest.raises(JournalError):
            journal.resume(cook)
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        resumed = journal.resume(cook)
    assert [a == b for a, b in zip(resumed, before, strict=True)].count(False) == 1


def test_a_folder_that_takes_no_copy_is_told_in_one_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "journal.db"
    filled(path)
    meddle(path, "UPDATE events SET slots = '{}' WHERE seq = 17")

    def full(*_: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(JournalError, match=r"cannot be rescued \(No space left on device\)"):
        rescue.rescue(path)
    assert rescue.findings(path)[0].startswith("cook family dinner: event 17")
