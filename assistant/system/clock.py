"""Time: the wall clock and the virtual clock. Scheduled calls run on either.

APScheduler only wakes the session: what is due is computed from the state, so
a job that is lost loses nothing. One call is armed at a time.
"""

import logging
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Protocol
from zoneinfo import ZoneInfoNotFoundError

from apscheduler.schedulers.background import BackgroundScheduler
from apscheduler.schedulers.base import BaseScheduler

STEP_S = 30.0  # a difference below this is drift, not a step
_WAKE = "wake"
_TICK = "tick"
_TICK_S = 0.25  # a call comes at most this late; jobs of their own raced with their removal


def since_boot() -> float:
    """Seconds since the computer started, its sleep included where the system can tell."""
    read = getattr(time, "clock_gettime", None)
    if read is None:  # Windows; its steady clock counts on while it sleeps
        return time.monotonic()
    steady: float = read(getattr(time, "CLOCK_BOOTTIME", time.CLOCK_MONOTONIC))
    return steady


def wall_time() -> float:
    """The computer's clock now, epoch seconds, for commands that need no clock to run."""
    return time.time()  # noqa: TID251 -- the wall clock is read in this module only


def local_zone() -> str:
    """The computer's IANA time-zone name; UTC where it has none."""
    from tzlocal import get_localzone_name

    try:
        return get_localzone_name() or "UTC"
    except (ZoneInfoNotFoundError, ValueError):
        return "UTC"


BOOT_ID = Path("/proc/sys/kernel/random/boot_id")


@dataclass(frozen=True, slots=True)
class Boot:
    """The computer's boot under its name, and the seconds since, suspends included."""

    name: str
    since_s: float


def this_boot() -> Boot | None:
    """The boot that runs; None where the system does not name it."""
    if not hasattr(time, "CLOCK_BOOTTIME"):
        return None
    try:
        name = BOOT_ID.read_text(encoding="ascii").strip()
    except (OSError, ValueError):
        return None
    return Boot(name, since_boot())


class Clock(Protocol):
    """Epoch seconds, and one armed call."""

    def now(self) -> float:
        """Epoch seconds."""

    def set_now(self, now_s: float) -> None:
        """Count on from `now_s`: the computer's clock is not believed, or was told."""

    def boot(self) -> Boot | None:
        """The computer's boot, where a restart within it can count exactly."""

    def wake_at(self, when_s: float | None, call: Callable[[], None]) -> None:
        """Arm the one call for `when_s`; None disarms."""

    def moved_s(self) -> float:
        """How far the computer's clock was stepped since the start; forward is positive."""

    def close(self) -> None:
        """Stop for good."""


class _SteadyScheduler(BackgroundScheduler):  # type: ignore[misc]  # APScheduler has no types
    """Goes on ticking when the computer's clock is stepped back: APScheduler waits for
    the wall clock to come round again, by an hour if need be."""

    def _process_jobs(self) -> float:
        now, job = datetime.now(UTC), self.get_job(_TICK)  # noqa: TID251 -- as APScheduler does
        if job is not None and job.next_run_time - now > timedelta(seconds=2 * _TICK_S):
            job.modify(next_run_time=now)
        wait_s = super()._process_jobs()
        return _TICK_S if wait_s is None else min(float(wait_s), _TICK_S)


class WallClock:
    """The computer's clock at the start, carried on by the time since boot.

    So a clock that is stepped or a time zone that changes moves no duration, and
    a suspend counts. The call comes on the scheduler's own thread.
    """

    def __init__(self) -> None:
        self._scheduler = _SteadyScheduler(
            timezone=UTC, job_defaults={"misfire_grace_time": None, "coalesce": True}
        )
        self._lock = threading.Lock()
        self._armed: tuple[float, Callable[[], None]] | None = None
        self._offset_s = wall_time() - since_boot()
        self._seen_moved_s = 0.0
        # A tick that a busy machine leaves out is made up by the next; a line spoils the board.
        logging.getLogger("apscheduler").setLevel(logging.ERROR)
        self._scheduler.add_job(self._tick, "interval", seconds=_TICK_S, id=_TICK)
        self._scheduler.start()

    def now(self) -> float:
        """Epoch seconds."""
        return self._offset_s + since_boot()

    def set_now(self, now_s: float) -> None:
        """Count on from `now_s`, epoch seconds."""
        self._offset_s = now_s - since_boot()

    def boot(self) -> Boot | None:
        """The computer's boot."""
        return this_boot()

    def moved_s(self) -> float:
        """How far the computer's clock was stepped since the start."""
        return wall_time() - self.now()

    def wake_at(self, when_s: float | None, call: Callable[[], None]) -> None:
        """Arm the one call for `when_s`; None disarms."""
        with self._lock:
            self._armed = None if when_s is None else (when_s, call)

    def _tick(self) -> None:
        with self._lock:
            if self._armed is None or not (self._armed[0] <= self.now() or self._stepped()):
                return
            _, call = self._armed
            self._armed = None
        call()

    def _stepped(self) -> bool:
        """The computer's clock was stepped since this was last asked."""
        moved_s = self.moved_s()
        if abs(moved_s - self._seen_moved_s) < STEP_S:
            return False
        self._seen_moved_s = moved_s
        return True

    def close(self) -> None:
        """Stop the scheduler's thread."""
        self._scheduler.shutdown(wait=False)


class _IdleScheduler(BaseScheduler):  # type: ignore[misc]  # APScheduler has no types
    """Keeps jobs in order; the virtual clock runs them."""

    def wakeup(self) -> None:
        """Nothing sleeps here."""

    def shutdown(self, wait: bool = True) -> None:  # noqa: FBT001, FBT002 -- its interface
        """Stop."""
        super().shutdown(wait)


class VirtualClock:
    """A clock that moves only when told; armed calls run at their own time."""

    def __init__(self, start_s: float) -> None:
        self._now_s = start_s
        self._moved_s = 0.0
        self._scheduler = _IdleScheduler(timezone=UTC)
        self._scheduler.start(paused=True)

    def now(self) -> float:
        """Epoch seconds."""
        return self._now_s

    def set_now(self, now_s: float) -> None:
        """Count on from `now_s`; the clock on the wall stays where it is."""
        self._moved_s += self._now_s - now_s
        self._now_s = now_s

    def boot(self) -> Boot | None:
        """None: nothing boots here."""
        return None

    def wake_at(self, when_s: float | None, call: Callable[[], None]) -> None:
        """Arm the one call for `when_s`; None disarms."""
        if self._scheduler.get_job(_WAKE):
            self._scheduler.remove_job(_WAKE)
        if when_s is not None:
            when = datetime.fromtimestamp(when_s, UTC)
            self._scheduler.add_job(
                call, "date", run_date=when, id=_WAKE, kwargs={}, name=repr(when_s)
            )

    def run_until(self, until_s: float) -> None:
        """Move on to `until_s`, running each armed call at its time."""
        while job := self._scheduler.get_job(_WAKE):
            when_s = float(job.name)  # exact; the job's datetime is rounded
            if when_s > until_s:
                break
            self._scheduler.remove_job(_WAKE)
            self._now_s = max(self._now_s, when_s)
            job.func()
        self._now_s = max(self._now_s, until_s)

    def moved_s(self) -> float:
        """How far the clock on the wall was stepped since the start."""
        return self._moved_s

    def step_wall(self, by_s: float) -> None:
        """Step the clock on the wall, back too, as a computer's clock can be."""
        self._moved_s += by_s

    def close(self) -> None:
        """Drop what is armed."""
        self._scheduler.shutdown(wait=False)
