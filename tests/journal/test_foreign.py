"""A cook from a file is checked as if it had been spoken, and is never gone on with."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from assistant.cook.rules.fold import fold
from assistant.cook.vocabulary import events as ev
from assistant.journal import jsonl
from assistant.journal.errors import JournalError
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from assistant.lookback.history import forget
from assistant.session.opening import open_cook
from tests.journal.evenings import START_S, family_dinner

HOSTILE = sorted((Path(__file__).parent / "hostile").glob("*.jsonl"))
BEGAN_S = 1_790_524_800.0
Change = Callable[[list[dict[str, Any]]], None]


def lines(*more: tuple[str, dict[str, Any]]) -> list[dict[str, Any]]:
    """A cook that has begun and not ended, as an export writes it."""
    head = {"turnspit": 1, "cook": {"id": "c" * 32, "name": "", "note": "", "began_s": BEGAN_S}}
    start = {"zone": "UTC", "birds": 2, "band_low_f": 350.0, "band_high_f": 400.0,
             "sauce_mark_f": 130.0, "done_mark_f": 165.0, "kind": "chicken", "scale": "F",
             "altitude_m": 0.0, "outside_f": 68.0, "sauces": []}  # fmt: skip
    found = [head]
    for seq, (name, slots) in enumerate(
        (("start_cook", start), ("birds_on", {"bird": 1}), *more), 1
    ):
        found.append({"seq": seq, "at_s": BEGAN_S + 60.0 * seq, "event": name, "slots": slots})
    return found


def written(path: Path, rows: list[dict[str, Any]]) -> Path:
    path.write_text("".join(json.dumps(row) + "\n" for row in rows), encoding="utf-8")
    return path


def refused(tmp_path: Path, path: Path) -> str:
    with Journal(tmp_path / "journal.db") as journal:
        with pytest.raises(JournalError) as error:
            jsonl.bring_in(journal, path)
        assert journal.cooks() == ()
    assert len(str(error.value).splitlines()) == 1
    return str(error.value)


@pytest.mark.parametrize("path", HOSTILE, ids=lambda path: path.stem)
def test_a_hostile_file_is_refused_and_the_next_cook_opens(tmp_path: Path, path: Path) -> None:
    refused(tmp_path, path)
    with ResilientJournal.open(tmp_path / "journal.db", at_s=BEGAN_S) as journal:
        assert open_cook(journal, BEGAN_S).is_new


SAID = {"number": 150.0, "scale": "F"}


@pytest.mark.parametrize(
    ("event", "why"),
    [
        (("bird_reading", {"bird": 1, "temperature": 900.0, "said": SAID, "confirmed": True}),
         "temperature"),
        (("bird_reading", {"bird": 99, "temperature": 150.0, "said": SAID, "confirmed": True}),
         "bird"),
        (("grill_reading", {"temperature": 5000.0, "said": SAID}), "temperature"),
        (("bird_weight", {"bird": 1, "mass_kg": 1e9}), "mass_kg"),
        (("fuel_added", {"count": 1e6, "kind": "lump"}), "count"),
        (("vents", {"which": "both", "opening": 7.0}), "opening"),
        (("serve_at", {"serve_s": 1e300}), "serve_s"),
        (("timer_set", {"due_s": 1e12, "minutes": 5.0}), "due_s"),
        (("bird_sauce", {"bird": 1, "sauce": "safe to eat", "sugar": "some"}), "sauce"),
        (("bird_sauce", {"bird": 1, "sauce": "a\u001b[2J", "sugar": "some"}), "cannot be printed"),
        (("heard", {"words": "x" * 9999, "confidence": 1.0, "outcome": "accept"}), "longer"),
        (("undo", {"target": 3}), "target"),
        (("correct", {"target": 2, "temperature": 9e9, "said": SAID}), "temperature"),
        (("thermometer_check", {"bath": "ice", "temperature": 32.0, "said": SAID,
                                "correction_f": 400.0}), "correction_f"),
    ],
)  # fmt: skip
def test_what_nobody_could_have_said_is_refused(
    tmp_path: Path, event: tuple[str, dict[str, Any]], why: str
) -> None:
    message = refused(tmp_path, written(tmp_path / "cook.jsonl", lines(event)))
    assert "event 3" in message
    assert why in message


def start(**slots: object) -> Change:
    return lambda rows: rows[1]["slots"].update(slots)


def at(place: int, at_s: float) -> Change:
    return lambda rows: rows[place].update(at_s=at_s)


def all_at(at_s: float) -> Change:
    return lambda rows: [row.update(at_s=at_s) for row in rows[1:]] and None  # type: ignore[return-value]


@pytest.mark.parametrize(
    "change",
    [all_at(5e9), all_at(-1.0),
     start(done_mark_f=100.0), start(done_mark_f=164.0), start(sauce_mark_f=200.0),
     start(band_low_f=500.0), start(birds=40), start(kind="mammoth"), start(zone="../etc"),
     start(altitude_m=1e6), start(sauces=[["safe", "some"]]), at(2, BEGAN_S - 9e6),
     at(2, 5e9), at(1, 1e300), at(2, BEGAN_S + 90 * 86400.0), lambda rows: rows.pop(1)],
)  # fmt: skip
def test_a_start_or_a_time_that_cannot_be_is_refused(tmp_path: Path, change: Change) -> None:
    rows = lines()
    change(rows)
    refused(tmp_path, written(tmp_path / "cook.jsonl", rows))


def test_a_whole_evening_still_comes_in(tmp_path: Path) -> None:
    with Journal(tmp_path / "a.db") as journal:
        cook_id = journal.begin("dinner", START_S)
        journal.append_recorded(cook_id, family_dinner())
        jsonl.export(journal, journal.cooks(), tmp_path / "out.jsonl")
    with Journal(tmp_path / "b.db") as journal:
        jsonl.bring_in(journal, tmp_path / "out.jsonl")
        assert journal.events(cook_id) == family_dinner()


def test_an_unfinished_cook_from_a_file_is_not_gone_on_with(tmp_path: Path) -> None:
    """It is there to look at and can be deleted; the next cook is a new one."""
    path = written(tmp_path / "cook.jsonl", lines())
    with Journal(tmp_path / "journal.db") as journal:
        jsonl.bring_in(journal, path)
        jsonl.bring_in(journal, path)
        (cook,) = journal.cooks()
        assert cook.ended_s is None
        assert fold(journal.events(cook.id)).is_running
    with ResilientJournal.open(tmp_path / "journal.db", at_s=BEGAN_S) as journal:
        assert open_cook(journal, BEGAN_S).is_new
    with Journal(tmp_path / "journal.db") as journal:
        assert forget(journal, "c" * 32).id == "c" * 32


def test_our_own_unfinished_cook_is_gone_on_with_after_an_import_of_itself(tmp_path: Path) -> None:
    with Journal(tmp_path / "journal.db") as journal:
        cook_id = journal.begin(None, BEGAN_S)
        journal.append(cook_id, BEGAN_S, [ev.CookBegan(birds=2)])
        jsonl.export(journal, journal.cooks(), tmp_path / "out.jsonl")
        jsonl.bring_in(journal, tmp_path / "out.jsonl")
        found = journal.unfinished()
        assert found is not None
        assert found.id == cook_id


def test_a_cook_that_cannot_be_read_can_be_deleted(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    with Journal(path) as journal:
        for number in (1, 2):
            cook_id = journal.begin(f"evening {number}", BEGAN_S + number)
            journal.append(cook_id, BEGAN_S + number, [ev.CookBegan(), ev.CookEnded()])
        journal._database.execute("UPDATE events SET slots = '{', seal = x'00'")
        assert forget(journal, "evening 1").name == "evening 1"
        assert forget(journal, "evening 2").name == "evening 2"
        assert journal.cooks() == ()


def test_a_file_of_twenty_thousand_heads_is_one_line(tmp_path: Path) -> None:
    """Each would have been looked up among all the others."""
    heads = [
        {"turnspit": 1, "events": 0,
         "cook": {"id": f"{n:032x}", "name": "", "note": "", "began_s": BEGAN_S}}
        for n in range(20_000)
    ]  # fmt: skip
    path = written(tmp_path / "heads.jsonl", heads)
    with pytest.raises(JournalError, match=f"line {jsonl.MOST_COOKS + 1}: more than 1000 cooks"):
        jsonl.read(path)
