"""A disk that turns read-only: one line says so, the cook goes on, and nothing told is lost."""

import contextlib
import ctypes
import errno
import json
import os
import resource
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.journal import jsonl
from assistant.journal.resilient import RETRY_S, ResilientJournal
from assistant.journal.store import Journal
from tests.reliability.kills import PROGRAM, ROOT, Fact, facts
from tests.reliability.storage import failing_calls

START_S = 1_790_524_800.0
NO_LIMIT = (resource.RLIM_INFINITY, resource.RLIM_INFINITY)
PR_CAPBSET_DROP, CAP_DAC_OVERRIDE = 24, 1

needs_linux = pytest.mark.skipif(sys.platform != "linux", reason="limits another process's files")


def home_of(tmp_path: Path) -> dict[str, str]:
    homes = {"XDG_DATA_HOME": str(tmp_path), "XDG_CONFIG_HOME": str(tmp_path / "config")}
    return os.environ | homes | {"PYTHONUNBUFFERED": "1"}


class Cook:
    """The real program, typed to line by line; `limited`: its disk takes no more."""

    def __init__(self, tmp_path: Path) -> None:
        self.facts: list[Fact] = []
        self.said: list[str] = []
        self._process = subprocess.Popen(
            [*PROGRAM, "cook", "--typed", "--json", "--birds", "2"],
            cwd=ROOT, env=home_of(tmp_path), text=True, stdin=subprocess.PIPE,
            stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )  # fmt: skip

    def tell(self, words: str, answer: str) -> None:
        """Type a line and wait for its answer."""
        assert self._process.stdin is not None
        assert self._process.stdout is not None
        self._process.stdin.write(f"{words}\n")
        self._process.stdin.flush()
        while not self.said or answer not in self.said[-1]:
            self._take(self._process.stdout.readline())

    def limited(self, limits: tuple[int, int]) -> None:
        resource.prlimit(self._process.pid, resource.RLIMIT_FSIZE, limits)

    def end(self) -> tuple[int, str]:
        """End of the typing; the exit status, and what else was printed."""
        out, err = self._process.communicate(timeout=100)
        for line in out.splitlines():
            self._take(line)
        return self._process.returncode, err

    def _take(self, line: str) -> None:
        found = json.loads(line)
        if found["kind"] == "event":
            self.facts.append((found["name"], json.dumps(found["fields"])))
        if found["kind"] == "said":
            self.said.append(found["text"])


def cook_that_nothing_is_written_of(tmp_path: Path) -> Cook:
    """A cook whose fire is lit, and whose bird goes on after the system lets nothing be written."""
    cook = Cook(tmp_path)
    cook.tell("fire is lit", "Fire lit")
    cook.limited((0, resource.RLIM_INFINITY))
    cook.tell("bird one is on", "Bird 1 on")
    return cook


def on_disk_after_a_restart(tmp_path: Path) -> list[Fact]:
    path = tmp_path / "turnspit" / "journal.sqlite3"
    with ResilientJournal.open(path, at_s=START_S) as journal:
        return facts(journal.events(journal.find().id))


@needs_linux
@pytest.mark.timeout(200)
def test_the_program_cooks_on_while_the_system_lets_nothing_be_written(tmp_path: Path) -> None:
    """No write to any file succeeds for a while, by the system itself."""
    cook = cook_that_nothing_is_written_of(tmp_path)
    cook.tell("added ten briquettes", "10 briquettes")
    cook.tell("lid off", "Lid off")
    told = [one for one in cook.said if "cannot be written" in one]
    assert len(told) == 1
    assert "the cook goes on in memory" in told[0]
    cook.limited(NO_LIMIT)
    assert cook.end() == (0, "")
    assert [name for name, _ in cook.facts].count("fuel_added") == 1
    assert on_disk_after_a_restart(tmp_path) == cook.facts


@needs_linux
@pytest.mark.timeout(200)
def test_what_can_be_written_nowhere_to_the_end_is_said_to_be_lost(tmp_path: Path) -> None:
    cook = cook_that_nothing_is_written_of(tmp_path)
    status, printed = cook.end()
    assert status == 0
    assert len(printed.splitlines()) == 1
    assert printed.startswith("the end of this cook is lost, for it can be written nowhere")
    kept = on_disk_after_a_restart(tmp_path)
    assert kept == cook.facts[: len(kept)]
    assert "fire_lit" in [name for name, _ in kept]


@contextlib.contextmanager
def read_only() -> Iterator[None]:
    """Every write and every opening under SQLite answers "Read-only file system"."""
    with (
        failing_calls("pwrite64", 1, errno.EROFS, lasting=True),
        failing_calls("open", 1, errno.EROFS, lasting=True),
    ):
        yield


def test_a_cook_that_ends_on_a_read_only_disk_is_kept_whole_elsewhere(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    path = tmp_path / "journal.sqlite3"
    with ResilientJournal.open(path, at_s=START_S) as journal:
        cook = journal.begin("family dinner", START_S)
        journal.append(cook, START_S, [ev.FireStarted()])
        with read_only():
            for step in range(1, 5):
                journal.append(cook, START_S + step * RETRY_S, [ev.LidOpened(), ev.LidClosed()])
            assert [news.kind for news in journal.news()] == ["memory_only"]
            line = journal.last_try(START_S + 100.0)
        recorded = journal.events(cook)
    assert len(recorded) == 9
    assert line is not None
    (kept,) = tmp_path.glob("turnspit-*/cook.jsonl")
    assert str(kept) in line
    assert "turnspit cooks import" in line
    with Journal(path) as mended:
        assert len(mended.events(cook)) == 1
        jsonl.bring_in(mended, kept)
        assert mended.events(cook) == recorded


def test_nothing_is_put_by_where_all_is_on_disk(tmp_path: Path) -> None:
    with ResilientJournal.open(tmp_path / "journal.sqlite3", at_s=START_S) as journal:
        cook = journal.begin(None, START_S)
        with read_only():
            journal.append(cook, START_S + 1.0, [ev.FireStarted()])
            assert not journal.is_safe
        assert journal.last_try(START_S + 2.0) is None
        assert journal.is_safe


def _as_anybody() -> None:
    """Root may write where nobody may: a process of root gives that right up."""
    ctypes.CDLL(None).prctl(PR_CAPBSET_DROP, CAP_DAC_OVERRIDE, 0, 0, 0)


@needs_linux
@pytest.mark.timeout(200)
def test_a_start_where_nothing_may_be_written_is_one_line_that_says_what_to_do(
    tmp_path: Path,
) -> None:
    home = tmp_path / "home"
    home.mkdir(mode=0o500)
    done = subprocess.run(
        [*PROGRAM, "cook", "--typed", "--birds", "2"], cwd=ROOT, env=home_of(home),
        input="birds on\n", text=True, capture_output=True, check=False, timeout=100,
        preexec_fn=_as_anybody,
    )  # fmt: skip
    assert done.returncode == 1
    assert len(done.stderr.splitlines()) == 1
    assert "cannot be opened (Permission denied): set XDG_DATA_HOME" in done.stderr
