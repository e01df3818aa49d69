"""Files without an end, readers that leave, bytes that are no text: one line, and on."""

import io
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

from assistant.cli.main import main
from assistant.journal.reader import JournalReader
from assistant.journal.store import Journal
from assistant.system import places
from assistant.system.standard_input import standard_input
from tests.journal.evenings import START_S, family_dinner

BELL = "\x1b]0;mine\x07\u202e"


@pytest.fixture
def pipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A named pipe that nobody writes to, in a folder of one's own."""
    for name in ("XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        monkeypatch.setenv(name, str(tmp_path))
    monkeypatch.chdir(tmp_path)
    path = tmp_path / "pipe.wav"
    os.mkfifo(path)
    return path


COMMANDS: list[Callable[[str], list[str]]] = [
    lambda pipe: ["hear", "--grammar", pipe, "none.wav"],
    lambda pipe: ["hear", "--text", pipe],
    lambda pipe: ["rehearse", pipe],
    lambda pipe: ["cook", "--recording", pipe],
    lambda pipe: ["cooks", "import", pipe],
]


@pytest.mark.timeout(60)
@pytest.mark.parametrize("command", COMMANDS, ids=["grammar", "text", "script", "sound", "import"])
def test_a_pipe_in_place_of_a_file_ends_at_once(
    pipe: Path, command: Callable[[str], list[str]]
) -> None:
    done = CliRunner().invoke(main, command(str(pipe)))
    assert done.exit_code in {1, 2}
    assert "not a" in done.stderr.splitlines()[-1]


@pytest.mark.timeout(60)
@pytest.mark.parametrize(
    "place", [places.journal_path, lambda: places.config_folder() / "cook.toml"]
)
def test_a_pipe_as_journal_or_settings_ends_at_once(pipe: Path, place: Callable[[], Path]) -> None:
    place().parent.mkdir(parents=True, exist_ok=True)
    os.mkfifo(place())
    done = CliRunner().invoke(main, ["cook", "--typed"], input="birds on\n")
    assert done.exit_code == 1
    assert "not a file" in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_bytes_that_are_no_text_do_not_end_the_evening(monkeypatch: pytest.MonkeyPatch) -> None:
    typed = io.TextIOWrapper(io.BytesIO(b"birds on\nb\xff\xfe\nbird one reads 118\n"), "utf-8")
    monkeypatch.setattr(sys, "stdin", typed)
    found = standard_input()
    assert found is not None
    assert found.readlines()[2] == "bird one reads 118\n"


@pytest.mark.timeout(120)
def test_a_cook_goes_on_when_its_reader_has_seen_enough(tmp_path: Path) -> None:
    home = {"XDG_DATA_HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path)}
    cook = subprocess.Popen(
        [sys.executable, "-m", "assistant", "cook", "--typed", "--json", "--birds", "2"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env={**os.environ, **home}, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    assert cook.stdin is not None
    assert cook.stdout is not None
    json.loads(cook.stdout.readline())
    cook.stdout.close()
    for words in ("birds on", "grill is 370", "added twelve briquettes"):
        cook.stdin.write(words + "\n")
        cook.stdin.flush()
    cook.stdin.close()
    assert cook.stderr is not None
    with cook.stderr as err:
        told = err.read().splitlines()
    assert cook.wait(60) == 0
    assert len(told) == 1
    assert "the cook goes on" in told[0]
    with JournalReader(tmp_path / "turnspit" / "journal.sqlite3") as journal:
        names = [one.event.NAME for one in journal.events(journal.find("last").id)]
    assert {"grill_reading", "fuel_added"} <= set(names)


def test_no_escape_sequence_of_a_journal_a_file_or_a_rule_reaches_the_terminal(
    pipe: Path, tmp_path: Path
) -> None:
    with Journal(places.journal_path()) as journal:
        cook = journal.begin("dinner", START_S)
        journal.append_recorded(cook, family_dinner())
        journal._database.execute("UPDATE cooks SET name = ?, note = ?", (BELL, BELL))
    grammar = tmp_path / f"g{BELL}.gram"
    grammar.write_text(f"#JSGF V1.0; grammar g; public <{BELL}> = <none>;", encoding="utf-8")
    settings = places.config_folder() / "cook.toml"
    calls = [
        ["history"], ["history", "--json"], ["replay", "last"], ["cooks", "export", BELL],
        ["lookback", "nobody" + BELL], [f"{BELL}"], ["rehearse", f"no{BELL}"], ["cook", BELL],
        ["hear", "--grammar", str(grammar), "none.wav"], ["hear", str(tmp_path / f"no{BELL}.wav")],
    ]  # fmt: skip
    for call in calls:
        done = CliRunner().invoke(main, call)
        shown = (done.stdout + done.stderr).replace("\n", "").replace("\t", "")
        assert not {"\x1b", "\x07", "\u202e"} & set(shown), call
    settings.parent.mkdir(parents=True, exist_ok=True)
    settings.write_text('[sauces]\n"\\u001b[2J" = "x"\n', encoding="utf-8")
    done = CliRunner().invoke(main, ["cook", "--typed"], input="")
    assert "\x1b" not in done.stdout + done.stderr
