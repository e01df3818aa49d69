"""Bugs of one line, each to be caught: python -m tests.reliability.mutants [WORD ...]

Each of `one_line.py` is written into a scratch copy and its own tests are run there; first
without it, for a test that fails anyway says nothing. WORD: only those of that topic, or in
a file of that name; `--first` and `--last` by number. `--into FILE` keeps each row there and
goes on where an earlier run into it ended: the table is then of all of them. 1 if one survives.
"""

import argparse
import os
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from pathlib import Path

import apsw  # noqa: F401 -- loaded once, here, for every run of tests
import hypothesis.strategies  # noqa: F401
import numpy as np  # noqa: F401
import pytest
import scipy.optimize  # noqa: F401
import syrupy  # noqa: F401

from tests.reliability.one_line import MUTANTS, Mutant

ROOT = Path(__file__).parents[2]
_NOT_COPIED = shutil.ignore_patterns(".*", "__pycache__", "docs", "*.egg-info", "shared")
PATIENCE_S = 300.0
PYTEST = (
    "-q", "-x", "-p", "no:cacheprovider", "-W", "ignore::pytest.PytestAssertRewriteWarning",
)  # fmt: skip
BROKEN = 70  # where pytest could not even be run
FAILED = 1  # pytest's status where tests ran and some failed


def scratch_copy(folder: Path) -> Path:
    """The tree without what no test needs."""
    return Path(shutil.copytree(ROOT, folder / "copy", ignore=_NOT_COPIED))


def fate(mutant: Mutant, tree: Path) -> str:
    """Write the bug into `tree`, run its tests, take it out again: "caught", or what else."""
    path = tree / mutant.file
    text = path.read_text(encoding="utf-8")
    if text.count(mutant.old) != 1:
        return f"stale: its line stands {text.count(mutant.old)} times"
    path.write_text(text.replace(mutant.old, mutant.new), encoding="utf-8")
    try:
        status = run_tests(mutant.tests, tree)
    finally:
        path.write_text(text, encoding="utf-8")
    return {0: "SURVIVED", FAILED: "caught", None: "hung"}.get(status, f"no test ran: {status}")


def run_tests(words: str, tree: Path) -> int | None:
    """pytest's status in that tree; None where it does not end.

    In a fork of this process, which has loaded pytest and what the tests draw on, and
    nothing of the program: that halves what a run takes.
    """
    child = os.fork()
    if not child:
        status = BROKEN
        try:
            status = _in_the_fork([*PYTEST, *words.split()], tree)
        finally:
            os._exit(status)  # never back through what is the parent's to clean up
    ends = time.monotonic() + PATIENCE_S
    while time.monotonic() < ends:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    os.killpg(child, signal.SIGKILL)
    os.waitpid(child, 0)
    return None


def _in_the_fork(words: list[str], tree: Path) -> int:
    os.setsid()
    os.chdir(tree)
    nothing = os.open(os.devnull, os.O_RDWR)
    for handle in (0, 1, 2):
        os.dup2(nothing, handle)
    os.environ |= {"PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    sys.dont_write_bytecode = True
    sys.path.insert(0, str(tree))
    for name in [one for one in sys.modules if one.partition(".")[0] in {"tests", "assistant"}]:
        del sys.modules[name]
    return int(pytest.main(words))


def by_tests(mutants: Sequence[Mutant]) -> dict[str, list[Mutant]]:
    """The mutants that the same tests should see."""
    groups: dict[str, list[Mutant]] = {}
    for one in mutants:
        groups.setdefault(one.tests, []).append(one)
    return groups


def fates(mutants: Sequence[Mutant]) -> Iterator[tuple[Mutant, str]]:
    """Each with what became of it, in a scratch copy of the tree."""
    with tempfile.TemporaryDirectory() as folder:
        tree = scratch_copy(Path(folder))
        for words, group in by_tests(mutants).items():
            passes = run_tests(words, tree) == 0
            for one in group:
                yield one, fate(one, tree) if passes else "its tests fail without it"


def row(number: int, mutant: Mutant, what: str) -> str:
    """What is printed of one."""
    old, new = (text.strip()[:50] for text in (mutant.old, mutant.new))
    return f"{number:3} {mutant.about:<9}{mutant.file}: {old!r} to {new!r}: {what}"


def main() -> int:
    """Print a row for each mutant and a table by topic; 1 if one was not caught."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.mutants")
    parser.add_argument("words", nargs="*", metavar="WORD")
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--last", type=int, default=len(MUTANTS))
    parser.add_argument("--into", type=Path)
    options = parser.parse_args()

    def is_wanted(one: Mutant) -> bool:
        return not options.words or any(w == one.about or w in one.file for w in options.words)

    numbered = list(enumerate(MUTANTS, 1))[options.first - 1 : options.last]
    wanted = {one: number for number, one in numbered if is_wanted(one)}
    into: Path | None = options.into
    kept = into.read_text("utf-8").splitlines() if into is not None and into.exists() else []
    done = [one for one, number in wanted.items() if row(number, one, "caught") in kept]
    caught = Counter(one.about for one in done)
    for mutant, what in fates([one for one in wanted if one not in done]):
        caught[mutant.about] += what == "caught"
        line = row(wanted[mutant], mutant, what)
        print(line, flush=True)
        if into is not None:
            with into.open("a", encoding="utf-8") as file:
                file.write(f"{line}\n")
    for about, number in Counter(one.about for one in wanted).items():
        print(f"| {about} | {number} | {caught[about]} |")
    print(f"{caught.total()} of {len(wanted)} caught")
    return 0 if caught.total() == len(wanted) else 1


if __name__ == "__main__":
    sys.exit(main())
