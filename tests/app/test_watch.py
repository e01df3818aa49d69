"""Looking on at a cook that another Turnspit runs."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from assistant.app.watch import running, watch
from assistant.cook.vocabulary import events as ev
from assistant.journal.errors import HeldError, JournalError
from assistant.journal.reader import JournalReader
from assistant.journal.store import Journal
from assistant.session.line import Line
from assistant.session.retold import moments
from tests.board.test_display import terminal
from tests.journal.evenings import START_S, family_dinner


class Kitchen:
    """The one that runs the cook: each wait of the one that looks on, it goes on a step."""

    def __init__(self, path: Path, *, idle: int = 0) -> None:
        self.path = path
        self.journal = Journal(path, at_s=START_S)
        self.cook_id = self.journal.begin("Family dinner", START_S)
        recorded = family_dinner()
        ends = [step.seq for step in moments(recorded)]
        starts = [0, *ends[:-1]]
        self.steps = [recorded[start:end] for start, end in zip(starts, ends, strict=True)]
        self.idle = idle
        self.waits = 0

    def __call__(self, seconds: float) -> None:
        assert seconds > 0
        self.waits += 1
        if self.waits > self.idle:
            self.go_on()

    def go_on(self) -> None:
        self.journal.append_recorded(self.cook_id, self.steps.pop(0))


def told() -> list[Line]:
    return [line for step in moments(family_dinner()) for line in step.lines]


@pytest.mark.parametrize("before", [1, 12])
def test_every_line_is_shown_once_as_it_is_committed(tmp_path: Path, before: int) -> None:
    kitchen = Kitchen(tmp_path / "journal.db", idle=3)
    for _ in range(before):
        kitchen.go_on()
    seen: list[Line] = []
    with kitchen.journal, JournalReader(kitchen.path) as journal:
        watch(journal, running(journal), seen.append, kitchen)
    assert isinstance(family_dinner()[-1].event, ev.CookEnded)
    assert seen == told()
    assert kitchen.steps == []


def test_on_a_terminal_the_board_is_watched(tmp_path: Path) -> None:
    """The screen shows the birds of the cook that another program runs, and is given
    back when that cook ends."""
    kitchen = Kitchen(tmp_path / "data" / "turnspit" / "journal.sqlite3")
    for _ in range(12):
        kitchen.go_on()
    home = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "TZ": "UTC", "TERM": "xterm"}
    home |= {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    with terminal(120, 40) as tty, kitchen.journal:
        watcher = subprocess.Popen(
            [sys.executable, "-m", "assistant", "watch"],
            stdin=subprocess.DEVNULL, stdout=tty.stream, stderr=subprocess.DEVNULL, env=home,
        )  # fmt: skip
        try:
            assert "looking on; Ctrl-C stops" in tty.take("motor end")
            while kitchen.steps:
                kitchen.go_on()
            assert "bird 1: " in tty.take("bird 1: ")
            assert watcher.wait(timeout=20) == 0
        finally:
            watcher.kill()
            watcher.wait()


def test_with_no_cook_under_way_there_is_nothing_to_watch(tmp_path: Path) -> None:
    with Journal(tmp_path / "journal.db") as journal:
        journal.append_recorded(journal.begin(None, START_S), family_dinner())
        with pytest.raises(JournalError, match="turnspit cook"):
            running(journal)


def test_a_held_journal_names_its_holder_and_since_when(tmp_path: Path) -> None:
    path = tmp_path / "journal.db"
    with Journal(path, at_s=START_S), pytest.raises(HeldError) as held:
        Journal(path)
    assert f"process number {os.getpid()}" in str(held.value)
    assert "since 2026-05-23" in str(held.value)
    assert "turnspit watch" in str(held.value)


def test_a_second_cook_is_refused_in_one_line_and_can_watch(tmp_path: Path) -> None:
    home = {"PATH": os.environ["PATH"], "HOME": str(tmp_path), "TZ": "UTC"}
    home |= {"XDG_DATA_HOME": str(tmp_path / "data"), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    kitchen = Kitchen(tmp_path / "data" / "turnspit" / "journal.sqlite3")
    kitchen.go_on()
    second = [sys.executable, "-m", "assistant", "cook", "--typed", "--json"]
    with kitchen.journal:
        refused = subprocess.run(
            second, input="birds on\n", capture_output=True, text=True, env=home, check=False
        )
        with subprocess.Popen(
            [sys.executable, "-m", "assistant", "watch", "--json"],
            stdout=subprocess.PIPE, text=True, env=home,
        ) as watcher:  # fmt: skip
            assert watcher.stdout is not None
            first = json.loads(watcher.stdout.readline())
            while kitchen.steps:
                kitchen.go_on()
            rest = watcher.stdout.readlines()
    assert refused.returncode == 1
    assert refused.stdout == ""
    assert refused.stderr.startswith("Error: the journal is held by")
    assert len(refused.stderr.splitlines()) == 1
    assert first["kind"] == "event"
    assert len(rest) + 1 == len(told())
    assert watcher.returncode == 0
