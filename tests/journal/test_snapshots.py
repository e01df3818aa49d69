"""A kept state is a short cut to what all events make, and nothing else."""

from pathlib import Path
from unittest import mock

import apsw
import pytest

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import codec as cook_codec
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import BirdReading, Said
from assistant.journal import rescue, snapshots
from assistant.journal.errors import WriteError
from assistant.journal.reader import JournalReader
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal

BEGAN_S = 1_760_000_000.0


def evening(count: int) -> list[ev.Event]:
    events: list[ev.Event] = [
        ev.CookBegan(zone="Europe/Vienna", birds=2, sauces=(("apricot", "high"),)),
        ev.BirdOn(1), ev.BirdOn(2), ev.TimerStarted(BEGAN_S + 600.0, 10.0),
    ]  # fmt: skip
    for number in range(count - len(events)):
        f = 60.0 + number % 90
        events.append(
            (
                ev.BirdRead(1 + number % 2, f, Said(f, "F"), "breast"),
                ev.GrillRead(f + 250.0, Said(f + 250.0, "F")),
                ev.WordsHeard("bird one", 0.5, "ask"),
                ev.AskedBack((BirdReading(1, f, Said(f, "F")),), "falls"),
                ev.AskBackClosed("no"),
                ev.PromptSaid(f"look:{number}", "soon"),
                ev.LidOpened(),
                ev.LidClosed(),
            )[number % 8]
        )
    return events


def filled(path: Path, count: int, keep_at: int) -> tuple[str, Cook]:
    """A cook of so many events with the state kept after `keep_at`; the whole state."""
    with Journal(path) as journal:
        cook = journal.begin("long", BEGAN_S)
        for number, event in enumerate(evening(count)):
            journal.append(cook, BEGAN_S + number, [event])
        recorded = journal.events(cook)
        journal.keep_state(cook, fold(recorded[:keep_at]))
        return cook, fold(recorded)


@pytest.mark.parametrize("count", [4, 5, 7, 9, 40, 200])
def test_a_state_survives_json(tmp_path: Path, count: int) -> None:
    with Journal(tmp_path / "journal.db") as journal:
        cook = journal.begin("x", BEGAN_S)
        state = fold(journal.append(cook, BEGAN_S, evening(count)))
        journal.keep_state(cook, state)
        assert snapshots.kept(journal, cook) == state


@pytest.mark.parametrize("tail", [0, 1, 30, 100])
def test_going_on_from_a_kept_state_is_going_on_from_all_events(tmp_path: Path, tail: int) -> None:
    path = tmp_path / "journal.db"
    cook, state = filled(path, 200, 200 - tail)
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        assert journal.resume_state(cook, Cook()) == state
        assert len(journal.events(cook)) == 200
        (undone,) = journal.append(cook, BEGAN_S + 999.0, [ev.Undone(195 - tail)])
        assert undone.seq == 201
        expected = fold(journal.events(cook))
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        assert journal.resume_state(cook, Cook()) == expected


def test_a_long_cook_reads_only_what_came_after_the_kept_state(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        cook = journal.begin("long", BEGAN_S)
        state = Cook()
        for number, event in enumerate(evening(3 * snapshots.EVERY + 7)):
            state = fold(journal.append(cook, BEGAN_S + number, [event]), state)
            journal.keep(state)
    read: list[ev.Recorded] = []
    events = JournalReader.events

    def counted(self: JournalReader, cook_id: str, after: int = 0) -> tuple[ev.Recorded, ...]:
        found = events(self, cook_id, after)
        read.extend(found)
        return found

    with (
        mock.patch.object(JournalReader, "events", counted),
        ResilientJournal.open(path, at_s=BEGAN_S) as journal,
    ):
        assert journal.resume_state(cook, Cook()) == state
    assert 0 < len(read) <= snapshots.EVERY


@pytest.mark.parametrize(
    "sql",
    [
        "UPDATE snapshots SET version = 'other'",
        "UPDATE snapshots SET state = replace(state, '350', '351')",
        "UPDATE snapshots SET seq = seq - 1",
        "UPDATE snapshots SET state = '['",
        "UPDATE events SET seal = x'0011223344556677' WHERE seq = 100",
        "DELETE FROM snapshots",
    ],
)
def test_a_state_that_cannot_be_trusted_is_not_used(tmp_path: Path, sql: str) -> None:
    path = tmp_path / "journal.db"
    cook, _ = filled(path, 120, 100)
    connection = apsw.Connection(str(path))
    connection.execute(sql)
    connection.close()
    with JournalReader(path) as reader:
        assert snapshots.kept(reader, cook) is None


def test_changed_code_makes_old_states_void() -> None:
    before = snapshots.version()
    snapshots.version.cache_clear()
    try:
        with mock.patch.object(snapshots, "fold", cook_codec):
            assert snapshots.version() != before
    finally:
        snapshots.version.cache_clear()


def test_check_finds_a_kept_state_that_its_events_do_not_make(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    cook, state = filled(path, 120, 120)
    assert rescue.findings(path) == ()
    with Journal(path) as journal:
        journal.keep_state(cook, fold([ev.Recorded(120, BEGAN_S, ev.FireStarted())], state))
    assert rescue.findings(path) == ("cook long: its kept state is not what its events make",)


def test_a_kept_state_costs_a_fresh_file_nothing(tmp_path: Path) -> None:
    """What was read past is still all there when the disk fails and a fresh file takes over."""
    path = tmp_path / "journal.db"
    cook, _ = filled(path, 120, 100)
    with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
        journal.resume_state(cook, Cook())
        with mock.patch.object(
            Journal, "append_recorded", side_effect=WriteError("the disk is full")
        ):
            journal.append(cook, BEGAN_S, [ev.LidOpened()])
        assert [news.kind for news in journal.news()] == ["moved"]
    with JournalReader(tmp_path / "journal-fresh-1.db") as reader:
        assert len(reader.events(cook)) == 121
