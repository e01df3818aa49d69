"""What a person asks of past cooks, over the journal of this computer."""

import io
import json
from pathlib import Path

import pytest

from assistant.app import keep as past
from assistant.journal import learning
from assistant.journal.errors import JournalError
from assistant.journal.store import Journal
from assistant.lookback.history import SCORES, Wanted
from assistant.lookback.output import LookbackError
from assistant.system.places import journal_path
from tests.journal.evenings import START_S, family_dinner, told

DAY_S = 86400.0
NOW_S = START_S + 30 * DAY_S


@pytest.fixture(autouse=True)
def journal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A journal with the family dinner and a short cook after it."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    with Journal(journal_path()) as one:
        one.append_recorded(one.begin("Family dinner", START_S, "a" * 32), family_dinner())
        later = START_S + DAY_S
        lines = [
            (0, "birds on"), (3600, "bird one reads one twenty"), (7000, "end the cook"),
            (7010, "yes"),
        ]  # fmt: skip
        one.append_recorded(one.begin("short", later, "b" * 32), told(lines, start_s=later))  # type: ignore[arg-type]
    return journal_path()


def replayed(
    capsys: pytest.CaptureFixture[str], which: str = "last", **options: object
) -> list[str]:
    chosen: dict[str, object] = {
        "speed": None, "since": "0:00:00", "at": None, "aloud": False, "steps": False,
        "as_json": False,
    }  # fmt: skip
    past.replay_cook(which, **(chosen | options))  # type: ignore[arg-type]  # options as named
    return capsys.readouterr().out.splitlines()


def history(**options: object) -> str:
    return past.history(
        Wanted(**options), zone="UTC", as_json=False, picture=None,  # type: ignore[arg-type]
        say=print, progress=lambda _done, _of: None,
    )  # fmt: skip


def test_the_last_cook_is_replayed_unless_another_is_named(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert '0:00:00  hears   "birds on"' in replayed(capsys)
    assert '0:00:10  hears   "fire is lit"' in replayed(capsys, "family dinner")
    assert replayed(capsys, "aaaa") == replayed(capsys, "family dinner")


def test_a_replay_can_be_json_and_start_later(capsys: pytest.CaptureFixture[str]) -> None:
    lines = replayed(capsys, "family dinner", since="2:28:00", as_json=True)
    kinds = [json.loads(line)["kind"] for line in lines]
    assert kinds[-3:] == ["heard", "event", "said"]
    assert min(json.loads(line)["t"] for line in lines) >= 8880.0


def test_state_and_forecast_at_a_moment_are_printed(capsys: pytest.CaptureFixture[str]) -> None:
    text = "\n".join(replayed(capsys, "family dinner", at="1:30:00"))
    assert "bird 1: motor end, apricot, 112 F" in text
    assert "sauce mark likely by now" in text


def test_a_cook_is_stepped_through_by_keys(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("\nhelp\ns\nq\n"))
    text = "\n".join(replayed(capsys, steps=True))
    assert "bird 1: motor end" in text
    assert "end_cook" not in text


def test_a_look_back_is_written_where_it_is_told(tmp_path: Path) -> None:
    past.look_back("short", tmp_path / "short.html")
    assert "<h1>short</h1>" in (tmp_path / "short.html").read_text()
    with pytest.raises(LookbackError):
        past.look_back("short", tmp_path / "short.doc")


def test_scores_are_kept_unless_another_program_writes(journal: Path) -> None:
    key = SCORES + "b" * 32
    with Journal(journal) as writer:
        text = history(text="short")
        assert writer.setting(key) is None
    assert history(text="short") == text
    with Journal(journal) as writer:
        assert writer.setting(key) is not None
    assert "Family dinner" not in text


def test_an_excluded_cook_teaches_nothing_until_it_may_again() -> None:
    past.teach("short", NOW_S, teaches=True)
    assert "Learned from 2 cooks" in history()
    assert past.teach("short", NOW_S, teaches=False) == "short no longer teaches the kitchen"
    assert "Learned from 1 cook," in history()
    past.reset_kitchen(NOW_S)
    assert "Nothing learned yet" in history()


def test_cooks_are_renamed_noted_and_deleted(journal: Path) -> None:
    past.rename("short", "a quick one", NOW_S)
    past.note("a quick one", "Dry. Sauce sooner.", NOW_S)
    assert "a quick one" in history(text="sauce sooner")
    past.delete("a quick one", NOW_S)
    with pytest.raises(JournalError, match="no cook is called"):
        past.note("a quick one", "x", NOW_S)
    with Journal(journal) as writer:
        assert [one.name for one in writer.cooks()] == ["Family dinner"]
        assert learning.kitchen_of(writer).cooks == 1


def test_cooks_move_between_machines_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    file = tmp_path / "cooks.jsonl"
    past.export_to(None, file, print)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "other"))
    assert past.import_from(file, NOW_S).startswith("2 cooks read, ")
    assert "2 cooks read, 0 new events" in past.import_from(file, NOW_S)
    assert "Family dinner" in history()


@pytest.mark.parametrize(
    ("options", "told_"),
    [({"since": "later"}, "write it like 0:40:00"), ({"at": "soon"}, "write it like 0:40:00")],
)
def test_a_moment_that_is_none_is_one_line(
    capsys: pytest.CaptureFixture[str], options: dict[str, str], told_: str
) -> None:
    with pytest.raises(ValueError, match=told_):
        replayed(capsys, **options)


def test_an_unknown_cook_and_a_missing_journal_are_one_line(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    with pytest.raises(JournalError, match="no cook is called 'none'"):
        replayed(capsys, "none")
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "nowhere"))
    with pytest.raises(JournalError):
        replayed(capsys)
