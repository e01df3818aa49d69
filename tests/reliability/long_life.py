"""A cook that never ends: python -m tests.reliability.long_life --hours 24

A reading every two minutes on the virtual clock, with the real journal; memory,
descriptors and the time of an answer are printed for every hour.
"""

import argparse
import ctypes
import gc
import statistics
import sys
import tempfile
import time
from contextlib import nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path

from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.journal.resilient import ResilientJournal
from assistant.session.line import Line
from assistant.session.opening import CookLog
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker
from tests.reliability.crash_images import BEGAN_S
from tests.reliability.stand_in import cheap_forecasts

EVERY_S = 120.0
MOST_KB = 12.0  # a reading: it is kept with its words and what was said of it, some 3 kB


@dataclass(frozen=True, slots=True)
class Hour:
    """After an hour: resident memory, open descriptors, the median answer of that hour."""

    hour: int
    memory_kb: int
    descriptors: int
    answer_s: float


def live(hours: int, *, real: bool) -> list[Hour]:
    """The hours of one cook; `real` computes real forecasts."""
    forecasts = nullcontext() if real else cheap_forecasts()
    with forecasts, tempfile.TemporaryDirectory() as folder:
        clock = VirtualClock(BEGAN_S)
        with ResilientJournal.open(Path(folder) / "journal.db", at_s=BEGAN_S) as journal:
            log = CookLog(journal, journal.begin("long", BEGAN_S))
            session = Session(log, clock, SilentSpeaker(), _forget, Cook())
            session.begin(ev.CookBegan(birds=2))
            for words in ("fire is lit", "birds on"):
                session.hear(heard_typed(words, "F"))
            found = [_hour(session, clock, hour) for hour in range(1, hours + 1)]
        clock.close()
    return found


def _hour(session: Session, clock: VirtualClock, hour: int) -> Hour:
    answers = []
    for reading in range(int(3600.0 / EVERY_S)):
        clock.run_until(clock.now() + EVERY_S)
        words = (
            f"grill is {360 + reading % 20}"
            if reading % 3
            else f"bird {1 + reading % 2} reads {100 + (hour + reading) % 20}"
        )
        started = time.perf_counter()
        session.hear(heard_typed(words, "F"))
        if session.state.pending is not None:
            session.hear(heard_typed("yes", "F"))
        answers.append(time.perf_counter() - started)
    gc.collect()
    return Hour(
        hour, _memory_kb(), len(list(Path("/proc/self/fd").iterdir())), statistics.median(answers)
    )


def _memory_kb() -> int:
    give_back_free()
    lines = Path("/proc/self/status").read_text(encoding="ascii").splitlines()
    return next(int(line.split()[1]) for line in lines if line.startswith("VmRSS"))


def give_back_free() -> None:
    """Hand what was freed back to the system, so that what is resident is what is held."""
    with suppress(AttributeError):  # another C library than glibc
        ctypes.CDLL(None).malloc_trim(0)


def _forget(_: Line) -> None:
    """Lines go nowhere."""


def growth_per_reading_kb(hours: list[Hour]) -> float:
    """What a reading costs in memory, kB, after the first hour."""
    first, last = hours[0], hours[-1]
    readings = (last.hour - first.hour) * 3600.0 / EVERY_S
    return (last.memory_kb - first.memory_kb) / readings


def main() -> int:
    """Print a line an hour; 1 if something grew."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.long_life")
    parser.add_argument("--hours", type=int, default=24)
    parser.add_argument("--cheap", action="store_true", help="without real forecasts")
    options = parser.parse_args()
    hours = live(options.hours, real=not options.cheap)
    for one in hours:
        print(
            f"hour {one.hour:3}: {one.memory_kb / 1024:7.1f} MB, {one.descriptors} descriptors, "
            f"answer {1000 * one.answer_s:.0f} ms"
        )
    growth_kb = growth_per_reading_kb(hours)
    print(f"memory grew by {growth_kb:.1f} kB a reading after the first hour")
    grew = growth_kb > MOST_KB or hours[-1].descriptors > hours[0].descriptors
    return 1 if grew else 0


if __name__ == "__main__":
    sys.exit(main())
