"""The journal keeps what it is given, for its owner, and one process writes it."""

import os
import stat
import subprocess
import sys
from operator import attrgetter
from pathlib import Path

import apsw
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Said
from assistant.journal import database, jsonl, store
from assistant.journal.errors import DamagedJournalError, HeldError, JournalError, NewerJournalError
from assistant.journal.reader import JournalReader
from assistant.journal.store import Journal
from tests.journal import make_fixture

FIXTURES = make_fixture.FIXTURES
BEGAN_S = 1_760_000_000.0


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "data" / "journal.db"


def reading(bird: int, temperature: float) -> ev.BirdRead:
    return ev.BirdRead(bird, temperature, Said(temperature, "F"))


def test_what_was_appended_is_read_again_by_the_next_process(path: Path) -> None:
    with Journal(path, at_s=BEGAN_S) as journal:
        cook = journal.begin("family dinner", BEGAN_S)
        first = journal.append(cook, BEGAN_S, [ev.CookBegan(zone="Europe/Vienna"), ev.BirdOn(1)])
        second = journal.append(cook, BEGAN_S + 0.1, [reading(1, 130.5)])
    with Journal(path, at_s=BEGAN_S) as journal:
        assert journal.events(cook) == first + second
        assert [entry.seq for entry in journal.events(cook)] == [1, 2, 3]
        assert journal.events(cook, after=2) == second


def test_a_commit_syncs_the_log_in_write_ahead_mode(path: Path) -> None:
    with Journal(path) as journal:
        assert journal._database.pragma("journal_mode") == "wal"
        assert journal._database.pragma("synchronous") == 2  # FULL


def test_file_log_and_folder_are_for_their_owner_only(path: Path) -> None:
    with Journal(path) as journal:
        journal.append(journal.begin("x", BEGAN_S), BEGAN_S, [ev.FireStarted()])
        modes = {one.name: stat.S_IMODE(one.stat().st_mode) for one in path.parent.iterdir()}
        assert stat.S_IMODE(path.parent.stat().st_mode) == 0o700
        assert {"journal.db", "journal.db-wal", "journal.db-shm", "journal.db.lock"} == set(modes)
        assert set(modes.values()) == {0o600}


def test_an_event_from_another_place_is_seen(path: Path) -> None:
    """A row with its own right seal, put where another event came before it."""
    with Journal(path) as journal:
        one, two = journal.begin("one", BEGAN_S), journal.begin("two", BEGAN_S)
        journal.append(one, BEGAN_S, [ev.FireStarted(), ev.LidOpened()])
        journal.append(two, BEGAN_S, [ev.WoodPut(), ev.LidClosed()])
        journal._database.execute(
            "UPDATE events SET (name, slots, seal) = (SELECT name, slots, seal FROM events"
            " WHERE cook = 1 AND seq = 2) WHERE cook = 2 AND seq = 2"
        )
        with pytest.raises(DamagedJournalError, match="event 2"):
            journal.events(two)


def test_a_fresh_file_is_never_open_to_others(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Not even until its mode is mended, and under a mask that hides nothing."""
    monkeypatch.setattr(Path, "chmod", lambda *_: None)
    before = os.umask(0)
    try:
        Journal(path).close()
    finally:
        os.umask(before)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_file_that_others_could_read_is_closed_to_them(path: Path) -> None:
    Journal(path).close()
    path.chmod(0o644)
    Journal(path).close()
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_second_writer_is_told_who_holds_it_and_since_when(path: Path) -> None:
    hold = (
        "import sys, pathlib; from assistant.journal.store import Journal\n"
        f"journal = Journal(pathlib.Path({str(path)!r}), at_s={BEGAN_S})\n"
        "cook = journal.begin('tonight', 1.0); print('open', flush=True); sys.stdin.read()"
    )
    with subprocess.Popen(
        [sys.executable, "-c", hold], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    ) as child:
        assert child.stdout is not None
        assert child.stdin is not None
        assert child.stdout.readline() == "open\n"
        with pytest.raises(HeldError, match=rf"process number {child.pid}, since 2025-10-") as held:
            Journal(path)
        assert (held.value.pid, held.value.since_s) == (child.pid, BEGAN_S)
        with JournalReader(path) as reader:
            assert [cook.name for cook in reader.cooks()] == ["tonight"]
        child.stdin.close()
        child.wait(10)
    Journal(path).close()


def test_a_killed_writer_leaves_no_lock(path: Path) -> None:
    hold = (
        "import os, signal, pathlib; from assistant.journal.store import Journal\n"
        f"journal = Journal(pathlib.Path({str(path)!r})); os.kill(os.getpid(), signal.SIGKILL)"
    )
    assert subprocess.run([sys.executable, "-c", hold], check=False).returncode == -9
    Journal(path).close()


def test_a_watcher_sees_what_is_committed_meanwhile_and_cannot_write(path: Path) -> None:
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        with JournalReader(path) as reader:
            assert reader.events(cook) == ()
            recorded = journal.append(cook, BEGAN_S, [ev.FireStarted()])
            assert reader.events(cook) == recorded
            with pytest.raises(apsw.ReadOnlyError):
                reader._database.execute("DELETE FROM events")


def test_a_cook_is_found_by_last_by_name_by_id_and_by_its_start(path: Path) -> None:
    with Journal(path) as journal:
        ids = []
        for number, name in enumerate(["Sunday", "harissa night", "sunday"]):
            ids.append(journal.begin(name, BEGAN_S + number))
            journal.append(ids[-1], BEGAN_S, [ev.FireStarted()])
        assert journal.find().id == ids[2]
        assert journal.find("SUNDAY").id == ids[2]
        assert journal.find("harissa night").id == ids[1]
        assert journal.find(ids[0]).id == ids[0]
        assert journal.find(ids[0][:8]).id == ids[0]
        with pytest.raises(JournalError, match="the latest are: Sunday, harissa night, sunday"):
            journal.find("monday")


def test_an_unknown_name_is_printed_without_its_control_characters(path: Path) -> None:
    with Journal(path) as journal:
        journal.append(journal.begin("x", BEGAN_S), BEGAN_S, [ev.FireStarted()])
        with pytest.raises(JournalError) as error:
            journal.find("\x1b[2J\u202eevil")
        assert str(error.value).isprintable()


def test_the_last_cook_without_an_end_is_unfinished(path: Path) -> None:
    with Journal(path) as journal:
        old, new = journal.begin("old", BEGAN_S), journal.begin("new", BEGAN_S + 1)
        assert journal.unfinished() is None
        journal.append(old, BEGAN_S, [ev.FireStarted()])
        journal.append(new, BEGAN_S + 1, [ev.FireStarted()])
        assert (cook := journal.unfinished()) is not None
        assert cook.id == new
        end = journal.append(new, BEGAN_S + 2, [ev.CookEnded()])[0]
        assert (cook := journal.unfinished()) is not None
        assert cook.id == old
        journal.append(new, BEGAN_S + 3, [ev.Undone(end.seq)])
        assert (cook := journal.unfinished()) is not None
        assert cook.id == new


def test_names_are_cleaned_and_a_name_of_nothing_is_refused(path: Path) -> None:
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        journal.rename(cook, " Aunt\x1b\u202e Ana's \n birthday" + "!" * 200)
        assert journal.find(cook).name == ("Aunt Ana's birthday" + "!" * 200)[: store.NAME_LENGTH]
        for bad in ("", " \x07 ", "last"):
            with pytest.raises(JournalError, match="cannot be a cook's name"):
                journal.rename(cook, bad)


def test_notes_and_settings_are_kept_and_a_deleted_cook_is_gone(path: Path) -> None:
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.CookBegan(), reading(1, 118.0)])
        journal.set_note(cook, "skin a bit pale \udcff")
        journal.set_setting("kitchen", {"cooks": 3, "shift": [["heat", 0.1, 0.2]]})
        assert journal.find(cook).note == "skin a bit pale ?"
        assert journal.setting("kitchen") == {"cooks": 3, "shift": [["heat", 0.1, 0.2]]}
        assert journal.setting("unknown") is None
        journal.delete(cook)
        assert journal.cooks() == ()
        assert journal._database.execute("SELECT count(*) FROM events").get == 0


def test_nothing_of_a_deleted_cook_lies_in_the_file(path: Path) -> None:
    """Not in a page that is free, not in what a shorter row left."""
    secret = b"the neighbours are not asked"
    with Journal(path) as journal:
        kept, gone = journal.begin("kept", BEGAN_S), journal.begin("gone", BEGAN_S)
        for number in range(60):
            heard = ev.WordsHeard(f"{secret.decode()} {number}", confidence=0.9, outcome="accept")
            journal.append(gone, BEGAN_S, [heard])
            journal.append(kept, BEGAN_S, [ev.LidOpened()])
    assert secret in path.read_bytes()
    with Journal(path) as journal:
        journal.delete(gone)
    assert secret not in path.read_bytes()
    assert [one.name for one in path.parent.iterdir() if one.name.endswith("-wal")] == []
    with JournalReader(path) as reader:
        assert len(reader.events(kept)) == 60


def test_a_value_that_json_cannot_hold_is_refused_and_the_journal_goes_on(path: Path) -> None:
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        with pytest.raises(JournalError, match="hold cannot be recorded"):
            journal.append(cook, BEGAN_S, [ev.FireStarted(), ev.Held(float("nan"))])
        assert [entry.seq for entry in journal.append(cook, BEGAN_S, [ev.LidOpened()])] == [1]


def test_strange_words_are_kept_as_they_were_heard(path: Path) -> None:
    words = "\x00\x1b[31m \ud800 \u202e \U0001f525 " + "a" * 1_000_000
    heard = ev.WordsHeard(words, confidence=0.1, outcome="refuse")
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        journal.append(cook, BEGAN_S, [heard])
        assert journal.events(cook)[0].event == heard


@settings(max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(st.floats(32.0, 600.0), max_size=4), max_size=12))
def test_any_batches_come_back_in_order(tmp_path: Path, batches: list[list[float]]) -> None:
    with Journal(tmp_path / "journal.db") as journal:
        cook = journal.begin("x", BEGAN_S)
        expected = [reading(1, one) for batch in batches for one in batch]
        for batch in batches:
            journal.append(cook, BEGAN_S, [reading(1, one) for one in batch])
        assert [entry.event for entry in journal.events(cook)] == expected


def test_a_long_log_is_moved_into_the_main_file(path: Path) -> None:
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        for _ in range(3 * store.CHECKPOINT_PAGES):
            journal.append(cook, BEGAN_S, [ev.LidOpened()])
        assert path.with_name("journal.db-wal").stat().st_size < 3 * 4096 * store.CHECKPOINT_PAGES
        assert path.stat().st_size > 4096 * 5


def test_a_newer_journal_is_refused_and_left_as_it_is(path: Path) -> None:
    Journal(path).close()
    connection = apsw.Connection(str(path))
    connection.pragma("user_version", database.SCHEMA + 1)
    connection.close()
    before = path.read_bytes()
    for opened in (Journal, JournalReader):
        with pytest.raises(NewerJournalError, match="update Turnspit; nothing was changed"):
            opened(path)
    assert path.read_bytes() == before


def test_an_event_of_a_newer_version_says_so(path: Path) -> None:
    with Journal(path) as journal:
        cook = journal.begin("x", BEGAN_S)
        journal.append(cook, BEGAN_S, [ev.FireStarted()])
        row = journal.rows(cook)[0]
        future = store.codec.Row(1, row.at_s, "teleported", "{}", b"")
        seal = store.codec.seal_after(store.codec.first_seal(cook), future)
        journal._database.execute("UPDATE events SET name = 'teleported', seal = ?", (seal,))
        with pytest.raises(NewerJournalError, match="teleported"):
            journal.events(cook)


def test_somebody_elses_database_is_refused_and_left_as_it_is(path: Path) -> None:
    path.parent.mkdir()
    connection = apsw.Connection(str(path))
    connection.execute("CREATE TABLE recipes (name TEXT)")
    connection.close()
    before = path.read_bytes()
    with pytest.raises(JournalError, match="not a Turnspit journal"):
        Journal(path)
    assert path.read_bytes() == before


def test_a_missing_journal_cannot_be_watched(path: Path) -> None:
    with pytest.raises(JournalError, match="there is no journal"):
        JournalReader(path)


def test_a_journal_in_a_folder_that_cannot_be_made_says_what_to_do(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    with pytest.raises(JournalError, match="XDG_DATA_HOME"):
        Journal(tmp_path / "file" / "journal.db")


@pytest.mark.parametrize("kept", sorted(FIXTURES.glob("journal-*.db")), ids=lambda kept: kept.name)
def test_every_journal_that_was_ever_released_opens(kept: Path, path: Path) -> None:
    path.parent.mkdir()
    path.write_bytes(kept.read_bytes())
    with Journal(path) as journal:
        cook = journal.find("family dinner")
        lines = "".join(jsonl.lines_of(journal, cook))
        assert [entry.seq for entry in journal.events(cook.id)] == list(range(1, cook.events + 1))
        assert journal.setting("kitchen") == {"cooks": 1, "shift": [["grill", 0.1, 0.2]]}
    assert lines == kept.with_suffix(".jsonl").read_text(encoding="ascii")
    assert cook.note == "the harissa one went first"


# Kinds of event that came after the kept journal.
NEWER = {"Carved", "MotorSideTold", "SkinTold", "TroubleEnded"}


def test_a_kept_journal_holds_every_kind_of_event_of_its_day() -> None:
    with JournalReader(FIXTURES / f"journal-{database.SCHEMA}.db") as reader:
        events = [entry.event for entry in reader.events(reader.find().id)]
    kind = attrgetter("__class__.__name__")  # in whatever order they are declared today
    every = [one for one in make_fixture.every_event() if kind(one) not in NEWER]
    today = sorted(every, key=kind)
    assert sorted(events, key=kind) == today, "an event changed: read make_fixture.py"
