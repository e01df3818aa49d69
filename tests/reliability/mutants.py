"""Bugs that must be found. Four are patched in for the harnesses; those of one line
(`one_line.py`) are written into a scratch copy, each run against its own test:

    python -m tests.reliability.mutants [--every N] [WORD ...]

WORD: only those about it, or in a file of that name. 1 if one survives.
"""

import argparse
import contextlib
import itertools
import os
import queue
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from unittest import mock

import apsw

from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import Event, Recorded
from assistant.cook.vocabulary.prompts import Prompt
from assistant.journal import database
from assistant.journal.resilient import News
from assistant.journal.store import Journal
from assistant.session import session
from assistant.session.line import Line
from assistant.session.log import Log
from tests.reliability.one_line import MUTANTS, Mutant

ROOT = Path(__file__).parents[2]
_NOT_COPIED = shutil.ignore_patterns(".*", "__pycache__", "docs", "*.egg-info", "shared")
PATIENCE_S = 300.0
FAILED = 1  # pytest's status where tests ran and some failed


@contextlib.contextmanager
def commit_skipped() -> Iterator[None]:
    """Every third commit is left for the next one, as a batching "optimisation" would."""
    number = itertools.count(1)

    @contextlib.contextmanager
    def transaction(connection: apsw.Connection) -> Iterator[None]:
        if not connection.in_transaction:
            connection.execute("BEGIN IMMEDIATE")
        yield
        if next(number) % 3:
            connection.execute("COMMIT")

    with (
        mock.patch.object(database, "transaction", transaction),
        mock.patch.object(Journal, "_checkpoint"),  # an open transaction would stop it
    ):
        yield


@contextlib.contextmanager
def sync_off() -> Iterator[None]:
    """Commits are written and not synced: only the power can tell."""
    with mock.patch.object(database, "SYNCHRONOUS", "off"):
        yield


@contextlib.contextmanager
def prompt_dropped() -> Iterator[None]:
    """After a restart only what falls due from then on is said."""
    began = [float("-inf")]
    resume, due = session.Session.resume, session.due

    def resumed(self: session.Session) -> None:
        began[0] = self.now()
        resume(self)

    def later(state: Cook, now_s: float) -> tuple[Prompt, ...]:
        return tuple(one for one in due(state, now_s) if one.due_s >= began[0])

    with (
        mock.patch.object(session.Session, "resume", resumed),
        mock.patch.object(session, "due", later),
    ):
        yield


@contextlib.contextmanager
def said_first() -> Iterator[None]:
    """What a turn says is out before its events are committed; the events' lines after."""
    turn = session.Session._turn

    def hasty(self: session.Session, events: Sequence[Event], *words: Any) -> None:
        log, show = self._log, self._show
        waiting: list[Callable[[], object]] = []
        self._log = _Later(log, self.state.seq, waiting)

        def shown(line: Line) -> None:
            if line.kind == "event":
                waiting.append(lambda: show(line))
            else:
                show(line)

        self._show = shown
        try:
            turn(self, events, *words)
        finally:
            self._log, self._show = log, show
        for one in waiting:
            one()

    with mock.patch.object(session.Session, "_turn", hasty):
        yield


@dataclass
class _Later:
    """A log that says at once what is recorded, and leaves the recording for `waiting`."""

    log: Log
    seq: int
    waiting: list[Callable[[], object]]

    @property
    def is_safe(self) -> bool:
        return self.log.is_safe

    def append(self, at_s: float, events: Sequence[Event]) -> tuple[Recorded, ...]:
        self.waiting.append(lambda: self.log.append(at_s, events))
        return tuple(Recorded(self.seq + n, at_s, one) for n, one in enumerate(events, 1))

    def keep(self, state: Cook) -> None:
        self.log.keep(state)

    def news(self, at_s: float) -> tuple[News, ...]:
        return self.log.news(at_s)


def scratch_copy(folder: Path) -> Path:
    """The tree without what no test needs."""
    return Path(shutil.copytree(ROOT, folder / "copy", ignore=_NOT_COPIED))


def fate(mutant: Mutant, tree: Path) -> str:
    """Write the bug into `tree`, run its test, take it out again: "caught", or what else."""
    path = tree / mutant.file
    text = path.read_text(encoding="utf-8")
    if text.count(mutant.old) != 1:
        return f"stale: its line stands {text.count(mutant.old)} times"
    path.write_text(text.replace(mutant.old, mutant.new), encoding="utf-8")
    try:
        status = _pytest(tree, mutant.tests.split(), PATIENCE_S)
    except subprocess.TimeoutExpired:
        return "hung"
    finally:
        path.write_text(text, encoding="utf-8")
    return {0: "SURVIVED", FAILED: "caught"}.get(status, f"no test ran: {status}")


def unchanged_passes(mutants: Sequence[Mutant]) -> bool:
    """Without a bug every one of their tests passes: else a failure says nothing."""
    with tempfile.TemporaryDirectory() as folder:
        tree = scratch_copy(Path(folder))
        files = sorted({one.tests.split()[0] for one in mutants})
        return _pytest(tree, files, PATIENCE_S * 2) == 0


def _pytest(tree: Path, words: Sequence[str], patience_s: float) -> int:
    """pytest's status in that tree. Raises TimeoutExpired."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *words]
    environment = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    return subprocess.run(
        command, cwd=tree, env=environment, capture_output=True, timeout=patience_s, check=False
    ).returncode


def fates(mutants: Sequence[Mutant], workers: int) -> Iterator[tuple[Mutant, str]]:
    """Each with what became of it; every worker has a copy of its own."""
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(workers) as pool:
        trees: queue.SimpleQueue[Path] = queue.SimpleQueue()
        for number in range(workers):
            (Path(folder) / str(number)).mkdir()
            trees.put(scratch_copy(Path(folder) / str(number)))

        def live(one: Mutant) -> tuple[Mutant, str]:
            tree = trees.get()
            try:
                return one, fate(one, tree)
            finally:
                trees.put(tree)

        yield from pool.map(live, mutants)


def main() -> int:
    """Print a row for each mutant and the count; 1 if one was not caught."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.mutants")
    parser.add_argument("words", nargs="*", metavar="WORD")
    parser.add_argument("--trust", action="store_true", help="the unchanged tree passes")
    parser.add_argument("--every", type=int, default=1, help="only every Nth")
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args()

    def is_wanted(one: Mutant) -> bool:
        return not options.words or any(w == one.about or w in one.file for w in options.words)

    wanted = [one for one in MUTANTS if is_wanted(one)][:: options.every]
    if not options.trust and not unchanged_passes(wanted):
        print("the unchanged tree fails: nothing can be told")
        return 1
    caught = 0
    for mutant, what in fates(wanted, options.workers):
        caught += what == "caught"
        print(f"{mutant.about:<9}{mutant.file}: {mutant.old.strip()[:60]!r}: {what}", flush=True)
    print(f"{caught} of {len(wanted)} caught")
    return 0 if caught == len(wanted) else 1


if __name__ == "__main__":
    sys.exit(main())
