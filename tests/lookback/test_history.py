"""Cooks side by side: what is told of each, filters, kept scores, pictures, housekeeping."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.journal import learning
from assistant.journal.errors import JournalError
from assistant.journal.jsonl import export
from assistant.journal.store import Journal
from assistant.lookback import history
from assistant.lookback.history import PastCook, Wanted, past_cooks
from assistant.lookback.history_print import history_json, history_picture, history_table
from assistant.lookback.output import LookbackError
from tests.journal.evenings import START_S, family_dinner, told

DAY_S = 86400.0
SHORT = [
    (0.0, "bird one weighs four pounds"), (60.0, "grill is three eighty"), (120.0, "birds on"),
    (600.0, "dinner in ninety minutes"), (4300.0, "bird one breast one fifty"),
    (5200.0, "bird one breast one seventy"), (5300.0, "bird one thigh one seventy"),
    (5400.0, "bird one is off"), (5500.0, "end the cook"), (5501.0, "yes"),
]  # fmt: skip


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[Journal]:
    """Two cooks: the family dinner, and a short one with a hen a week later."""
    with Journal(tmp_path / "journal.db") as one:
        cook_id = one.begin("Family dinner", START_S, cook_id="a" * 32)
        one.append_recorded(cook_id, family_dinner())
        later = START_S + 7 * DAY_S
        cook_id = one.begin("a week later", later, cook_id="b" * 32)
        one.append_recorded(cook_id, told(SHORT, ev.CookBegan(birds=1, kind="hen"), later))
        yield one


def one_cook(journal: Journal, name: str) -> PastCook:
    (found,) = past_cooks(journal, Wanted(text=name))
    return found


def test_a_cook_is_told_with_weights_times_grill_and_scores(journal: Journal) -> None:
    cook = one_cook(journal, "family")
    assert [round(bird.mass_kg or 0, 2) for bird in cook.birds] == [2.27, 2.04, 1.81]
    assert cook.birds[2].to_sauce_s is None  # it stays plain
    assert cook.birds[0].to_done_s is not None
    assert 5400 < cook.birds[0].to_done_s < 5800
    assert cook.roast_s == pytest.approx(96 * 60 + 40)
    assert cook.grill_f == pytest.approx((350 + 370 + 375 + 365) / 4)
    assert cook.fuel == 24  # what was taken back does not count
    assert cook.late_s == pytest.approx(-(28 * 60 + 20), abs=1)
    assert cook.scores.count > 50
    assert cook.teaches


@pytest.mark.parametrize(
    ("wanted", "names"),
    [
        (Wanted(), ["Family dinner", "a week later"]),
        (Wanted(since_s=START_S + DAY_S), ["a week later"]),
        (Wanted(until_s=START_S + DAY_S), ["Family dinner"]),
        (Wanted(text="WEEK"), ["a week later"]),
        (Wanted(kind="hen"), ["a week later"]),
        (Wanted(sauce="harissa"), ["Family dinner"]),
        (Wanted(sauce="mustard"), []),
    ],
)
def test_filters_pick_cooks(journal: Journal, wanted: Wanted, names: list[str]) -> None:
    assert [one.info.name for one in past_cooks(journal, wanted, keep=journal)] == names


def test_an_unfinished_cook_is_left_out_unless_asked_for(journal: Journal) -> None:
    cook_id = journal.begin("now", START_S + 8 * DAY_S)
    journal.append(cook_id, START_S + 8 * DAY_S, (ev.CookBegan(),))
    assert len(past_cooks(journal, keep=journal)) == 2
    assert past_cooks(journal, Wanted(text="now", unfinished=True))[0].roast_s is None
    journal.begin("empty", START_S + 9 * DAY_S)
    assert len(past_cooks(journal, Wanted(unfinished=True))) == 3


def test_scores_are_kept_until_the_cook_changes(
    journal: Journal, monkeypatch: pytest.MonkeyPatch
) -> None:
    info = journal.find("a week later")
    first = history.scores_of(journal, info, keep=journal)
    with monkeypatch.context() as patch:
        patch.setattr(history, "evening", None)  # computing again would fail
        assert history.scores_of(journal, info) == first
    journal.append(info.id, START_S + 7 * DAY_S + 5600, (ev.WoodPut(),))
    changed = journal.find("a week later")
    assert history.scores_of(journal, changed).count == first.count


def test_progress_is_told(journal: Journal) -> None:
    told_: list[tuple[int, int]] = []
    past_cooks(journal, keep=journal, progress=lambda done, of: told_.append((done, of)))
    assert told_ == [(0, 2), (1, 2), (2, 2)]


def test_the_table_reads_in_a_terminal(journal: Journal) -> None:
    text = history_table(past_cooks(journal, keep=journal), "America/New_York")
    lines = text.splitlines()
    assert lines[0].split()[:4] == ["when", "cook", "birds", "roast"]
    assert lines[1].startswith("2026-05-23 16:00  Family dinner  5, 4.5, 4 lb  1 h 37 min")
    assert "hen 4 lb" in lines[2]
    assert max(len(line) for line in lines) <= 120
    assert history_table((), "UTC") == "No such cook in the journal yet."


def test_json_lines_hold_everything(journal: Journal) -> None:
    lines = [json.loads(line) for line in history_json(past_cooks(journal)).splitlines()]
    assert [line["name"] for line in lines] == ["Family dinner", "a week later"]
    assert lines[0]["birds"][1]["sauce"] == "harissa"
    assert 0 <= lines[0]["inside_80"] <= 1


def test_the_picture_is_drawn_or_told_why_not(journal: Journal, tmp_path: Path) -> None:
    cooks = past_cooks(journal)
    out = tmp_path / "history.svg"
    history_picture(cooks, out, "UTC")
    first = out.read_bytes()
    assert b"<svg" in first
    history_picture(cooks, out, "UTC")
    assert out.read_bytes() == first
    with pytest.raises(LookbackError, match="no cook has forecasts"):
        history_picture((), out, "UTC")
    with pytest.raises(LookbackError, match="end the name"):
        history_picture(cooks, tmp_path / "history.pdf", "UTC")


def test_an_excluded_cook_says_that_it_teaches_nothing(journal: Journal) -> None:
    learning.exclude(journal, journal.find("family dinner").id)
    assert [one.teaches for one in past_cooks(journal)] == [False, True]


def test_a_forgotten_cook_is_gone_with_all_it_taught(journal: Journal) -> None:
    past_cooks(journal, keep=journal)
    assert learning.relearn(journal).cooks == 2
    gone = history.forget(journal, "a week later")
    assert gone.name == "a week later"
    assert [one.name for one in journal.cooks()] == ["Family dinner"]
    assert learning.kitchen_of(journal).cooks == 1
    assert journal.setting(history.SCORES + gone.id) is None
    with pytest.raises(JournalError, match="no cook is called"):
        history.forget(journal, "a week later")


def test_the_cook_that_is_cooking_cannot_be_forgotten(journal: Journal) -> None:
    cook_id = journal.begin("now", START_S + 8 * DAY_S)
    journal.append(cook_id, START_S + 8 * DAY_S, (ev.CookBegan(),))
    with pytest.raises(JournalError, match="has not ended"):
        history.forget(journal, "now")


def test_cooks_merged_from_another_machine_teach_once(journal: Journal, tmp_path: Path) -> None:
    out = tmp_path / "cooks.jsonl"
    export(journal, journal.cooks(), out)
    with Journal(tmp_path / "other" / "journal.db") as other:
        assert history.merge_file(other, out).cooks == 2
        once = learning.kitchen_of(other)
        again = history.merge_file(other, out)
        assert (again.new, again.cooks) == (0, 2)
        assert learning.kitchen_of(other) == once
        assert once == learning.relearn(journal)
        assert [one.scores for one in past_cooks(other)] == [
            one.scores for one in past_cooks(journal)
        ]
