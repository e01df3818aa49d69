"""Whole evenings from seeds: python -m tests.reliability.simulate --seeds 2000

One seed makes a cook, a kitchen, a badly heard speaker, faults and restarts, all
on the virtual clock; what must always hold is checked after every event
(`tests.reliability.checks`). A failure prints the command that repeats it.
"""

import argparse
import hashlib
import itertools
import random
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Sequence
from contextlib import ExitStack
from dataclasses import dataclass, field
from pathlib import Path
from unittest import mock

import apsw

from assistant.cook.rules import away
from assistant.cook.rules.due import due
from assistant.cook.rules.fold import apply, fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.ears.heard import Heard
from assistant.journal import jsonl, snapshots
from assistant.journal.reader import JournalReader
from assistant.journal.resilient import News, ResilientJournal
from assistant.session.line import Line
from assistant.session.opening import CookLog, open_cook
from assistant.session.session import Session
from assistant.system.clock import Boot, VirtualClock
from assistant.voice.speech import Speech, Tone
from tests.reliability import checks
from tests.reliability.crash_images import memory_folder
from tests.reliability.disk import Image, after_power_cut, lay_out
from tests.reliability.kitchen import Kitchen
from tests.reliability.stand_in import cheap_forecasts
from tests.reliability.storage import Faulty, Recorder

WRONG_S = (-3.0e9, -7200.0, 13 * 3600.0, 40 * 86400.0)  # the clock at a restart, seconds off
STARTS_S = (
    1_790_524_800.0,  # a Sunday afternoon
    1_792_886_400.0,  # 2026-10-25 00:00 UTC: the clocks go back in Europe within the hours after
    1_774_742_400.0,  # 2026-03-29 00:00 UTC: they go forward
    1_793_516_400.0,  # 2026-11-01 07:00 UTC: they go back in America
)
ZONES = ("Europe/Vienna", "America/New_York", "UTC", "Asia/Kolkata")
REAL_EVERY = 100  # every so-manieth seed computes real forecasts
LONGEST_S = 6 * 3600.0
_NUMBERS = itertools.count()


class BootedClock(VirtualClock):
    """A virtual clock of a computer whose boot has a name; a restart may be within it."""

    def __init__(self, start_s: float, name: str, since_s: float) -> None:
        super().__init__(start_s)
        self.name = name
        self._since_s = since_s

    def run_until(self, until_s: float) -> None:
        self._since_s += max(0.0, until_s - self.now())
        super().run_until(until_s)

    def boot(self) -> Boot:
        return Boot(self.name, self._since_s)


class _Silent:
    """A speaker that is not there; what was said is in the lines."""

    def say(self, speech: Speech) -> None: ...

    def tone(self, tone: Tone) -> None: ...

    def hush(self) -> None: ...

    def duck(self, *, down: bool) -> None: ...

    def close(self) -> None: ...


@dataclass
class Watched:
    """The session's log, and what it acknowledged. `safe`: how much of it as on disk."""

    log: CookLog
    recorded: list[ev.Recorded]
    safe: int

    @property
    def is_safe(self) -> bool:
        return self.log.is_safe

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        new = self.log.append(at_s, events)
        self.recorded += new
        if self.log.is_safe:
            self.safe = len(self.recorded)
        return new

    def keep(self, state: Cook) -> None:
        self.log.keep(state)

    def news(self, at_s: float) -> tuple[News, ...]:
        news = self.log.news(at_s)
        if self.log.is_safe:
            self.safe = len(self.recorded)
        return news


@dataclass
class Evening:
    """One simulated evening as it stands."""

    seed: int
    root: Path
    chance: random.Random
    kitchen: Kitchen
    clock: BootedClock
    storage: Faulty
    began_s: float
    lines: list[Line] = field(default_factory=list)
    shown: int = 0
    counts: Counter[str] = field(default_factory=Counter)
    woken: tuple[float, int] = (0.0, 0)  # when last, and how often at that moment
    full_until_s: float | None = None
    before: Image = field(default_factory=dict)

    folder: Path = field(init=False)
    recorder: Recorder = field(init=False)
    journal: ResilientJournal = field(init=False)
    log: Watched = field(init=False)
    session: Session = field(init=False)

    @property
    def now_s(self) -> float:
        return self.clock.now() - self.began_s


def begin(seed: int, root: Path, storage: Faulty) -> Evening:
    """A new evening with its first event."""
    chance = random.Random(seed)
    began_s = chance.choice(STARTS_S) + chance.randrange(7200)
    clock = BootedClock(began_s, "boot 0", 300.0)
    evening = Evening(seed, root, chance, Kitchen(chance), clock, storage, began_s)
    _open(evening, {})
    cook_id = f"{seed:032x}"
    evening.journal.begin(f"evening {seed}", began_s, cook_id)
    evening.log = Watched(CookLog(evening.journal, cook_id), [], 0)
    evening.session = _session(evening, None)
    zone = chance.choice(ZONES)
    evening.session.begin(ev.CookBegan(zone=zone, birds=evening.kitchen.birds))
    return evening


def _open(evening: Evening, image: Image) -> None:
    evening.counts["starts"] += 1
    evening.folder = evening.root / str(evening.counts["starts"])
    evening.folder.mkdir()
    lay_out(image, evening.folder)
    evening.before = image
    evening.recorder = Recorder(f"recorder-{next(_NUMBERS)}", evening.storage.name)
    evening.journal = ResilientJournal.open(
        evening.folder / "journal.db", at_s=evening.clock.now(), vfs=evening.recorder.name
    )


def _session(evening: Evening, state: Cook | None) -> Session:
    def wake() -> None:
        checks.no_hurry(evening)
        session.tick()

    session = Session(evening.log, evening.clock, _Silent(), evening.lines.append, state, wake=wake)
    return session


def step(evening: Evening) -> bool:
    """The cook says something, or something goes wrong; False when the evening is over."""
    evening.clock.run_until(evening.clock.now() + evening.kitchen.pause_s(evening.session.state))
    checks.after_step(evening)
    _mend(evening)
    _go_wrong(evening)
    words = evening.kitchen.words(evening.session.state, evening.now_s)
    if not words or evening.now_s > LONGEST_S:
        return False
    fate = evening.kitchen.fate()
    evening.counts[fate] += 1
    for heard in evening.kitchen.heard(words, fate, "F"):
        _hear(evening, heard)
    return evening.session.state.is_running


def _hear(evening: Evening, heard: Heard) -> None:
    evening.session.hear(heard)
    checks.after_step(evening)


def _go_wrong(evening: Evening) -> None:
    roll = evening.chance.random()
    for share, fault in (
        (0.03, _killed), (0.02, _power_cut), (0.02, _disk_full), (0.01, _sync_fails),
        (0.015, _clock_stepped), (0.01, _suspended),
    ):  # fmt: skip
        if roll < share:
            evening.counts[fault.__name__.strip("_")] += 1
            fault(evening)
            checks.after_step(evening)
            return
        roll -= share


def _mend(evening: Evening) -> None:
    if evening.full_until_s is not None and evening.clock.now() >= evening.full_until_s:
        evening.full_until_s = None
        evening.storage.arm(0, apsw.FullError)


def _disk_full(evening: Evening) -> None:
    evening.full_until_s = evening.clock.now() + evening.chance.expovariate(1 / 900.0)
    evening.storage.arm(1, apsw.FullError, lasting=True, only="write")


def _sync_fails(evening: Evening) -> None:
    if evening.full_until_s is None:
        evening.storage.arm(1, apsw.IOError, only="sync")


def _clock_stepped(evening: Evening) -> None:
    evening.clock.step_wall(evening.chance.choice([-3600.0, 3600.0, 86400.0, -86400.0]))
    evening.session.tick()


def _suspended(evening: Evening) -> None:
    """The machine sleeps for forty minutes: no call comes, and then a late one."""
    evening.clock.wake_at(None, evening.session.tick)
    evening.clock.run_until(evening.clock.now() + 2400.0)
    evening.session.tick()


def _killed(evening: Evening) -> None:
    """SIGKILL: what was written is there, synced or not. The computer runs on."""
    files = {path.name: path.read_bytes() for path in evening.folder.iterdir() if path.is_file()}
    kept = {name: data for name, data in files.items() if not name.endswith(".lock")}
    _restart(evening, kept, evening.clock.name)


def _power_cut(evening: Evening) -> None:
    """The plug: of what was not synced, any part may be there, and the computer boots."""
    left = {path.name for path in evening.folder.iterdir()}
    image = after_power_cut(evening.before, evening.recorder.steps, evening.chance)
    kept = {name: data for name, data in image.items() if name in left}
    _restart(evening, kept, f"boot {evening.counts['starts']}")


def _restart(evening: Evening, image: Image, boot: str) -> None:
    before = evening.clock
    then_s = evening.session.now()
    evening.clock.close()
    evening.journal.close()
    evening.recorder.unregister()
    away_s = min(evening.chance.expovariate(1 / 300.0), 2400.0)
    # Most starts find a right clock; some a board's without a battery, or one far ahead.
    wrong_s = evening.chance.choice((0.0,) * 6 + WRONG_S)
    evening.counts["wrong_clock"] += wrong_s != 0.0
    since_s = before.boot().since_s + away_s if boot == before.name else 20.0
    evening.clock = BootedClock(max(0.0, before.now() + away_s + wrong_s), boot, since_s)
    acknowledged = evening.log
    _open(evening, image)
    opened = open_cook(evening.journal, evening.clock.now())
    assert opened.state is not None, "the unfinished cook was not found"
    found = evening.journal.events(opened.log.cook_id)
    checks.holds(fold(found) == opened.state, "the state is not what its events make")
    checks.after_restart(acknowledged.recorded, acknowledged.safe, found)
    evening.log = Watched(opened.log, list(found), len(found))
    evening.session = _session(evening, opened.state)
    now_s = away.back(opened.state, evening.clock.now(), boot, since_s).now_s
    back = apply(opened.state, ev.Recorded(len(found) + 1, now_s, ev.Resumed(0.0)))
    waiting = due(back, now_s) if not back.asleep else ()
    evening.session.resume()
    checks.after_resume(evening, waiting)
    known_s = then_s + away_s if opened.state.boot == boot else None
    checks.time_goes_on(evening, opened.state, wrong_s, known_s)


def live(seed: int, *, real: bool | None = None) -> tuple[str, Counter[str]]:
    """Live one evening; the digest of its journal and lines, and what happened.

    `real`: with real forecasts (default: every `REAL_EVERY`th seed). What breaks is
    raised with a note of the command that repeats it.
    """
    real = seed % REAL_EVERY == 0 if real is None else real
    with ExitStack() as stack:
        if not real:
            stack.enter_context(cheap_forecasts())
        root = Path(stack.enter_context(tempfile.TemporaryDirectory(dir=memory_folder())))
        # Often enough that most evenings are gone on with from a kept state.
        stack.enter_context(mock.patch.object(snapshots, "EVERY", 15))
        storage = Faulty(f"storage-{next(_NUMBERS)}")
        stack.callback(storage.unregister)
        try:
            return _through(begin(seed, root, storage))
        except Exception as error:
            error.add_note(f"repeat: python -m tests.reliability.simulate --seed {seed}")
            raise


def _through(evening: Evening) -> tuple[str, Counter[str]]:
    while step(evening):
        pass
    evening.storage.arm(0, apsw.FullError)
    evening.clock.run_until(evening.clock.now() + 60.0)
    evening.session.tick()
    checks.at_end(evening)
    digest = _digest(evening)
    evening.clock.close()
    evening.journal.close()
    evening.recorder.unregister()
    recorded = evening.log.recorded
    evening.counts.update(facts=len(recorded), prompts=checks.prompts_said(recorded))
    return digest, evening.counts


def _digest(evening: Evening) -> str:
    """Of the exported journal and of every line that was shown."""
    digest = hashlib.sha256()
    with JournalReader(evening.journal.live_path) as reader:
        for line in jsonl.lines_of(reader, reader.find()):
            digest.update(line.encode())
    for shown in evening.lines:
        digest.update(f"{shown}\n".replace(str(evening.root), "").encode())
    return digest.hexdigest()


def main() -> int:
    """Run seeds; print what happened and what failed; 1 if anything did."""
    parser = argparse.ArgumentParser(prog="python -m tests.reliability.simulate")
    parser.add_argument("--seeds", type=int, default=200, help="how many evenings")
    parser.add_argument("--first", type=int, default=1, help="the first of them")
    parser.add_argument("--seed", type=int, help="only this one")
    options = parser.parse_args()
    seeds = (
        [options.seed]
        if options.seed is not None
        else range(options.first, options.first + options.seeds)
    )
    total: Counter[str] = Counter()
    failures = 0
    started = time.monotonic()
    for number, seed in enumerate(seeds, 1):
        if number % 100 == 0:
            print(f"{number} evenings so far, {failures} failures", file=sys.stderr)
        try:
            total += live(seed)[1]
        except Exception as error:
            failures += 1
            print(f"{error!r}\n  {' '.join(error.__notes__)}")
            if options.seed is not None:
                raise
    print(f"{len(seeds)} evenings in {time.monotonic() - started:.0f} s: {failures} failures")
    print(", ".join(f"{number} {name}" for name, number in sorted(total.items())))
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
