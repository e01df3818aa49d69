"""Bugs of one line, each to be caught: python -m tests.reliability.mutants [WORD ...]

Each of `one_line.py` is written into a scratch copy and its own tests are run there; first
without it, for a test that fails anyway says nothing. WORD: only those of that topic, or in
a file of that name; `--first` and `--last` by number, so that a run can be gone on with.
1 if one survives.
"""

import argparse
import os
import queue
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from collections.abc import Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

from tests.reliability.one_line import MUTANTS, Mutant

ROOT = Path(__file__).parents[2]
_NOT_COPIED = shutil.ignore_patterns(".*", "__pycache__", "docs", "*.egg-info", "shared")
PATIENCE_S = 300.0
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
    """pytest's status in that tree; None where it does not end."""
    command = [sys.executable, "-m", "pytest", "-q", "-x", "-p", "no:cacheprovider", *words.split()]
    environment = {**os.environ, "PYTHONPATH": str(tree), "PYTHONDONTWRITEBYTECODE": "1"}
    try:
        return subprocess.run(
            command, cwd=tree, env=environment, capture_output=True, timeout=PATIENCE_S,
            check=False,
        ).returncode  # fmt: skip
    except subprocess.TimeoutExpired:
        return None


def by_tests(mutants: Sequence[Mutant]) -> dict[str, list[Mutant]]:
    """The mutants that the same tests should see."""
    groups: dict[str, list[Mutant]] = {}
    for one in mutants:
        groups.setdefault(one.tests, []).append(one)
    return groups


def fates(mutants: Sequence[Mutant], workers: int) -> Iterator[tuple[Mutant, str]]:
    """Each with what became of it; every worker has a copy of its own."""
    with tempfile.TemporaryDirectory() as folder, ThreadPoolExecutor(workers) as pool:
        trees: queue.SimpleQueue[Path] = queue.SimpleQueue()
        for number in range(workers):
            (Path(folder) / str(number)).mkdir()
            trees.put(scratch_copy(Path(folder) / str(number)))

        def live(group: list[Mutant]) -> list[tuple[Mutant, str]]:
            tree = trees.get()
            try:
                if run_tests(group[0].tests, tree) != 0:
                    return [(one, "its tests fail without it") for one in group]
                return [(one, fate(one, tree)) for one in group]
            finally:
                trees.put(tree)

        for found in pool.map(live, by_tests(mutants).values()):
            yield from found


def main() -> int:
    """Print a row for each mutant and a table by topic; 1 if one was not caught."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.mutants")
    parser.add_argument("words", nargs="*", metavar="WORD")
    parser.add_argument("--first", type=int, default=1)
    parser.add_argument("--last", type=int, default=len(MUTANTS))
    parser.add_argument("--workers", type=int, default=os.cpu_count() or 1)
    options = parser.parse_args()

    def is_wanted(one: Mutant) -> bool:
        return not options.words or any(w == one.about or w in one.file for w in options.words)

    numbered = list(enumerate(MUTANTS, 1))[options.first - 1 : options.last]
    wanted = {one: number for number, one in numbered if is_wanted(one)}
    caught: Counter[str] = Counter()
    for mutant, what in fates(list(wanted), options.workers):
        caught[mutant.about] += what == "caught"
        line = f"{mutant.file}: {mutant.old.strip()[:50]!r}: {what}"
        print(f"{wanted[mutant]:3} {mutant.about:<9}{line}", flush=True)
    for about, number in Counter(one.about for one in wanted).items():
        print(f"| {about} | {number} | {caught[about]} |")
    print(f"{caught.total()} of {len(wanted)} caught")
    return 0 if caught.total() == len(wanted) else 1


if __name__ == "__main__":
    sys.exit(main())
