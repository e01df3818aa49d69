"""The clocks: calls come at their time, late ones come all the same."""

import threading
from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo
from typing import Self

import pytest
from apscheduler.events import EVENT_JOB_MAX_INSTANCES
from hypothesis import given
from hypothesis import strategies as st

from assistant.system.clock import VirtualClock, WallClock

WAIT_S = 20.0


@given(st.lists(st.floats(0, 1e5), min_size=1, max_size=20))
def test_a_virtual_clock_runs_each_armed_call_at_its_own_time(delays: list[float]) -> None:
    clock = VirtualClock(1e9)
    times = iter(sorted(1e9 + delay for delay in delays))
    called: list[float] = []

    def call() -> None:
        called.append(clock.now())
        arm()

    def arm() -> None:
        clock.wake_at(next(times, None), call)

    arm()
    clock.run_until(1e9 + 2e5)
    assert called == sorted(1e9 + delay for delay in delays)
    assert clock.now() == 1e9 + 2e5


def test_a_call_armed_in_the_past_comes_at_once_and_time_does_not_go_back() -> None:
    clock = VirtualClock(100.0)
    called: list[float] = []
    clock.wake_at(50.0, lambda: called.append(clock.now()))
    clock.run_until(100.0)
    assert called == [100.0]


def test_arming_again_replaces_and_none_disarms() -> None:
    clock = VirtualClock(0.0)
    called: list[str] = []
    clock.wake_at(10.0, lambda: called.append("first"))
    clock.wake_at(20.0, lambda: called.append("second"))
    clock.run_until(30.0)
    clock.wake_at(40.0, lambda: called.append("third"))
    clock.wake_at(None, lambda: None)
    clock.run_until(50.0)
    assert called == ["second"]


@pytest.fixture
def wall() -> Iterator[WallClock]:
    clock = WallClock()
    yield clock
    clock.close()


def test_a_wall_clock_call_that_is_long_overdue_is_not_dropped(wall: WallClock) -> None:
    came = threading.Event()
    wall.wake_at(wall.now() - 3600.0, came.set)
    assert came.wait(timeout=10.0)


def test_a_clock_stepped_back_an_hour_delays_no_call(
    wall: WallClock, monkeypatch: pytest.MonkeyPatch
) -> None:
    class HourBack(datetime):
        @classmethod
        def now(cls, tz: tzinfo | None = None) -> Self:
            return super().now(tz) - timedelta(hours=1)

    came = threading.Event()
    for module in ("apscheduler.schedulers.base", "assistant.system.clock"):
        monkeypatch.setattr(f"{module}.datetime", HourBack)
    wall.wake_at(wall.now() + 0.5, came.set)
    assert came.wait(timeout=20.0)


def test_a_tick_that_comes_too_late_spoils_no_board(
    wall: WallClock, caplog: pytest.LogCaptureFixture
) -> None:
    """APScheduler warns of it where nobody set up a log: on standard error, over the board."""
    busy, seen = threading.Event(), threading.Event()
    skipped = threading.Semaphore(0)
    wall._scheduler.add_listener(lambda _event: skipped.release(), EVENT_JOB_MAX_INSTANCES)

    def call() -> None:
        seen.set()
        busy.wait(WAIT_S)

    wall.wake_at(wall.now(), call)
    assert seen.wait(WAIT_S)
    assert skipped.acquire(timeout=WAIT_S)  # the ticks that came meanwhile
    busy.set()
    assert [one.message for one in caplog.records if one.name.startswith("apscheduler")] == []


def test_a_call_armed_from_within_a_call_comes_too(wall: WallClock) -> None:
    came, count = threading.Event(), iter(range(20))

    def call() -> None:
        if next(count) == 5:
            came.set()
        else:
            wall.wake_at(wall.now(), call)

    wall.wake_at(wall.now(), call)
    assert came.wait(timeout=30.0)


def test_a_wall_clock_counts_on_from_what_it_is_told(wall: WallClock) -> None:
    """Told another time it goes on from there, and says how far the computer's is off."""
    now_s = wall.now()
    wall.set_now(now_s - 7200.0)
    assert now_s - 7200.0 <= wall.now() < now_s - 7190.0
    assert 7190.0 < wall.moved_s() < 7210.0


def test_a_boot_is_named_by_linux(wall: WallClock) -> None:
    first, second = wall.boot(), wall.boot()
    if first is None or second is None:
        pytest.skip("this system names no boot")
    assert first.name == second.name
    assert first.since_s <= second.since_s
