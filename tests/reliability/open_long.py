"""How long a cook of 100,000 events takes to open: python -m tests.reliability.open_long"""

import argparse
import sys
import tempfile
import time
from pathlib import Path

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Said
from assistant.journal import snapshots
from assistant.journal.resilient import ResilientJournal
from assistant.journal.store import Journal
from assistant.session.opening import open_cook
from tests.reliability.crash_images import BEGAN_S

BATCH = 1_000


def events(count: int) -> list[ev.Event]:
    """A cook of so many events, half of them readings."""
    found: list[ev.Event] = [ev.CookBegan(birds=2), ev.BirdOn(1), ev.BirdOn(2)]
    for number in range(count - len(found)):
        f = 100.0 + number % 50
        found.append(
            (
                ev.BirdRead(1 + number // 4 % 2, f, Said(f, "F")),
                ev.GrillRead(f + 250.0, Said(f + 250.0, "F")),
                ev.WordsHeard("grill is three fifty", 0.9, "accept"),
                ev.PromptSaid(f"look:{number}", "soon"),
            )[number % 4]
        )
    return found


def make(path: Path, count: int) -> Cook:
    """Write the cook, with the state kept as late as a session is sure to have; its state."""
    with Journal(path) as journal:
        cook = journal.begin("long", BEGAN_S)
        all_events = events(count)
        for start in range(0, count, BATCH):
            journal.append(cook, BEGAN_S + start, all_events[start : start + BATCH])
        recorded = journal.events(cook)
        late = fold(recorded[: count - snapshots.EVERY + 1])
        journal.keep_state(cook, late)
        return fold(recorded[count - snapshots.EVERY + 1 :], late)


def main() -> int:
    """Print the times; 1 if what was opened is not what was written."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.open_long")
    parser.add_argument("--events", type=int, default=100_000)
    options = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "journal.db"
        state = make(path, options.events)
        snapshots.version.cache_clear()
        wall_s, compute_s = time.perf_counter(), time.process_time()
        with ResilientJournal.open(path, at_s=BEGAN_S) as journal:
            opened = open_cook(journal, state.at_s + 1.0)
            wall_s, compute_s = time.perf_counter() - wall_s, time.process_time() - compute_s
        size_mb = path.stat().st_size / 1e6
    print(
        f"{options.events} events ({size_mb:.1f} MB) opened in {wall_s:.2f} s "
        f"({compute_s:.2f} s of computing)"
    )
    return 0 if opened.state == state else 1


if __name__ == "__main__":
    sys.exit(main())
