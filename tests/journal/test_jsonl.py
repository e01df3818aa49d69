"""Cooks leave as JSON lines and come back the same, once."""

import json
import os
import stat
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.journal import jsonl
from assistant.journal.errors import JournalError, NewerJournalError
from assistant.journal.store import Journal
from tests.journal.make_fixture import every_event

BEGAN_S = 1_760_000_000.0
HEADER = '{"turnspit": 1, "cook": {"id": "abc", "name": "n", "note": "", "began_s": 1.0}}\n'
EVENT = '{"seq": 1, "at_s": 1.0, "event": "fire_lit", "slots": {}}\n'


def filled(path: Path) -> Journal:
    journal = Journal(path)
    cook = journal.begin("family dinner", BEGAN_S)
    journal.append(cook, BEGAN_S + 0.125, every_event())
    journal.set_note(cook, "the harissa one first \u00e9")
    return journal


def test_an_export_brought_in_elsewhere_is_the_same_cook(tmp_path: Path) -> None:
    with filled(tmp_path / "one.db") as one, Journal(tmp_path / "two.db") as two:
        jsonl.export(one, one.cooks(), tmp_path / "cook.jsonl")
        assert jsonl.bring_in(two, tmp_path / "cook.jsonl") == jsonl.Imported(
            1, len(every_event()), 0
        )
        assert two.cooks() == one.cooks()
        assert two.events(one.find().id) == one.events(one.find().id)


def test_bringing_it_in_twice_is_bringing_it_in_once(tmp_path: Path) -> None:
    with filled(tmp_path / "one.db") as journal:
        before = journal.events(journal.find().id)
        jsonl.export(journal, journal.cooks(), tmp_path / "cook.jsonl")
        assert jsonl.bring_in(journal, tmp_path / "cook.jsonl").new == 0
        assert journal.events(journal.find().id) == before
        assert len(journal.cooks()) == 1


def test_only_the_events_that_are_new_are_added(tmp_path: Path) -> None:
    with filled(tmp_path / "one.db") as one, Journal(tmp_path / "two.db") as two:
        jsonl.export(one, one.cooks(), tmp_path / "early.jsonl")
        jsonl.bring_in(two, tmp_path / "early.jsonl")
        one.append(one.find().id, BEGAN_S + 60.0, [ev.LidOpened(), ev.LidClosed()])
        jsonl.export(one, one.cooks(), tmp_path / "late.jsonl")
        assert jsonl.bring_in(two, tmp_path / "late.jsonl").new == 2
        assert jsonl.bring_in(two, tmp_path / "early.jsonl").new == 0
        assert two.events(one.find().id) == one.events(one.find().id)


def test_of_a_file_with_one_cook_that_is_refused_none_is_kept(tmp_path: Path) -> None:
    """Twice under one id, the second unlike the first; a good cook stands before them."""
    good = HEADER.replace("abc", "good") + EVENT
    twice = HEADER + EVENT + HEADER + EVENT.replace("fire_lit", "lid_off")
    (tmp_path / "three.jsonl").write_text(good + twice, encoding="ascii")
    with Journal(tmp_path / "journal.db") as journal:
        with pytest.raises(JournalError, match="differs from event 1 on: nothing was brought in"):
            jsonl.bring_in(journal, tmp_path / "three.jsonl")
        assert journal.roster() == ()


def test_a_cook_that_went_two_ways_is_refused_and_nothing_changes(tmp_path: Path) -> None:
    with filled(tmp_path / "one.db") as one, Journal(tmp_path / "two.db") as two:
        jsonl.export(one, one.cooks(), tmp_path / "cook.jsonl")
        jsonl.bring_in(two, tmp_path / "cook.jsonl")
        cook, last = one.find().id, len(every_event())
        two.append(cook, BEGAN_S + 60.0, [ev.LidClosed()])
        one.append(cook, BEGAN_S + 60.0, [ev.LidOpened(), ev.FireStarted()])
        jsonl.export(one, one.cooks(), tmp_path / "cook.jsonl")
        with pytest.raises(JournalError, match=f"differs from event {last + 1} on"):
            jsonl.bring_in(two, tmp_path / "cook.jsonl")
        assert two.events(cook)[-1].event == ev.LidClosed()


def test_an_export_is_for_its_owner_and_leaves_no_part_behind(tmp_path: Path) -> None:
    with filled(tmp_path / "one.db") as journal:
        jsonl.export(journal, journal.cooks(), tmp_path / "cook.jsonl")
        assert stat.S_IMODE((tmp_path / "cook.jsonl").stat().st_mode) == 0o600
        with pytest.raises(JournalError, match="cannot be written"):
            jsonl.export(journal, journal.cooks(), tmp_path / "no" / "cook.jsonl")
        (tmp_path / "taken").mkdir()
        with pytest.raises(JournalError, match="cannot be written"):
            jsonl.export(journal, journal.cooks(), tmp_path / "taken")
    assert not list(tmp_path.glob("*.part"))


def change(**fields: object) -> str:
    return json.dumps({**json.loads(EVENT), **fields}) + "\n"


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("", "holds no cook"),
        ("\n \n", "holds no cook"),
        ("[1]\n", "line 1: expected a JSON object"),
        ("{]\n", "line 1: "),
        ("[" * 100_000 + "\n", "line 1: "),
        (EVENT, "line 1: expected a header first"),
        (HEADER.replace("1.0", "NaN"), "line 1: expected a time"),
        (HEADER.replace("1.0", "1" * 400), "line 1: "),
        (HEADER.replace("1.0", "1" * 5000), "line 1: "),
        (HEADER.replace('"abc"', '"../../etc/passwd"'), "line 1: expected an id"),
        (HEADER.replace('"abc"', "7"), "line 1: expected text"),
        (HEADER.replace('"n"', r'"\u001b"'), "line 1: .* cannot be a cook's name"),
        (HEADER + change(seq=2), "line 2: expected event 1"),
        (HEADER + change(seq=True), "line 2: expected event 1"),
        (HEADER + change(event=["fire_lit"]), "line 2: expected the name"),
        (HEADER + change(event="teleported"), "line 2: event 1 is a 'teleported'"),
        (HEADER + change(slots=[]), "line 2: .*not an object"),
        (HEADER + change(extra=1), "line 2: expected seq, at_s"),
        (HEADER + EVENT + change(seq=2, at_s="now"), "line 3: expected a time"),
        (HEADER + "x" * (jsonl.LONGEST_LINE + 1), "line 2: longer than any event"),
        (HEADER.replace("}}", '}, "events": 2}') + EVENT, "1 events of 2: the file was cut"),
    ],
)
def test_a_bad_file_is_refused_with_its_line_and_nothing_is_brought_in(
    tmp_path: Path, text: str, complaint: str
) -> None:
    (tmp_path / "cook.jsonl").write_text(text)
    with Journal(tmp_path / "journal.db") as journal:
        with pytest.raises(JournalError, match=complaint) as error:
            jsonl.bring_in(journal, tmp_path / "cook.jsonl")
        assert str(error.value).isprintable()
        assert len(str(error.value)) < 400
        assert journal.cooks() == ()


def test_a_file_of_a_newer_format_says_to_update(tmp_path: Path) -> None:
    (tmp_path / "cook.jsonl").write_text(HEADER.replace(": 1,", ": 2,", 1))
    with pytest.raises(NewerJournalError, match="update Turnspit"):
        jsonl.read(tmp_path / "cook.jsonl")


def huge(path: Path) -> None:
    with path.open("wb") as file:
        file.truncate(jsonl.LARGEST_BYTES + 1)


@pytest.mark.parametrize(
    ("make", "complaint"),
    [
        (huge, "larger than 64 MB"),
        (Path.mkdir, "is not a file"),
        (os.mkfifo, "is not a file"),
        (lambda path: None, "is not a file"),
    ],
)
def test_what_is_no_small_file_is_refused_unread(
    tmp_path: Path, make: Callable[[Path], None], complaint: str
) -> None:
    make(tmp_path / "cook.jsonl")
    with pytest.raises(JournalError, match=complaint):
        jsonl.read(tmp_path / "cook.jsonl")
