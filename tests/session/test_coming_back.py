"""A restart under any clock: elapsed time goes on, and what looks wrong is asked about."""

import itertools

import pytest

from assistant.cook.rules.fold import fold
from assistant.cook.vocabulary import events as ev
from assistant.ears.heard import Heard
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import Boot, VirtualClock
from assistant.voice.silent import SilentSpeaker
from tests.cook.build import START_S

HOUR_S = 3600.0
BOOTED_S = 5000.0  # the first clock's boot, before the cook began


class Booted(VirtualClock):
    """A virtual clock within a boot that has a name."""

    def __init__(self, start_s: float, name: str, since_s: float) -> None:
        super().__init__(start_s)
        self._name, self._since_s, self._start_s = name, since_s, start_s
        self._steady_s = 0.0

    def run_until(self, until_s: float) -> None:
        self._steady_s += until_s - self.now()
        super().run_until(until_s)

    def boot(self) -> Boot:
        return Boot(self._name, self._since_s + self._steady_s)


class Kitchen:
    """A cook that is stopped and started again under another clock."""

    def __init__(self, clock: VirtualClock) -> None:
        self.log, self.lines, self.clock = MemoryLog(), list[Line](), clock
        self.session = Session(self.log, clock, SilentSpeaker(), self.lines.append)
        self.session.begin(ev.CookBegan(birds=1))

    def say(self, words: str) -> None:
        heard: Heard = heard_typed(words, "F")
        self.session.hear(heard)

    def restart(self, clock: VirtualClock) -> list[str]:
        """What is said on coming back."""
        self.clock, before = clock, len(self.lines)
        state = fold(self.log.recorded)
        self.session = Session(self.log, clock, SilentSpeaker(), self.lines.append, state)
        self.session.resume()
        return self.said(before)

    def said(self, since: int = 0) -> list[str]:
        return [str(one.fields["text"]) for one in self.lines[since:] if one.kind == "said"]

    def wait(self, seconds: float) -> list[str]:
        before = len(self.lines)
        self.clock.run_until(self.clock.now() + seconds)
        return self.said(before)


def kitchen(clock: VirtualClock | None = None) -> Kitchen:
    one = Kitchen(clock if clock is not None else VirtualClock(START_S))
    one.say("birds on")
    one.say("set a timer for 20 minutes")
    one.wait(600.0)
    one.say("lid off")
    one.say("lid on")
    return one


@pytest.mark.parametrize(
    ("clock_s", "gap"), [(0.0, "hours"), (START_S - 7200.0, "2 hours 10 minutes")]
)
def test_a_clock_behind_freezes_nothing(clock_s: float, gap: str) -> None:
    """A board without a battery clock: the timer still comes, ten minutes after the restart."""
    one = kitchen()
    said = one.restart(VirtualClock(clock_s))
    assert any("clock looks wrong" in text and gap in text for text in said), said
    assert one.session.now() == START_S + 600.0
    assert not any("timer" in text for text in one.wait(590.0))
    assert any("Your timer is up." in text for text in one.wait(20.0))
    assert one.session.now() == START_S + 1210.0


def test_told_how_long_it_was_time_moves_on_by_that() -> None:
    one = kitchen()
    one.restart(VirtualClock(0.0))
    one.say("away fifteen minutes")
    assert one.session.now() == START_S + 600.0 + 900.0
    assert any("timer is up" in text for text in one.said())
    assert one.session.state.pending is None


def test_the_question_stays_open_while_the_cook_goes_on() -> None:
    one = kitchen()
    one.restart(VirtualClock(0.0))
    one.say("grill is 370")
    assert any("Say how long I was away" in text for text in one.wait(120.0))
    one.say("you were away for five minutes")
    assert one.session.now() == START_S + 600.0 + 120.0 + 300.0


@pytest.mark.parametrize("ahead_s", [13 * HOUR_S, 40 * 24 * HOUR_S])
def test_a_clock_ahead_ends_no_cook(ahead_s: float) -> None:
    one = kitchen()
    said = one.restart(VirtualClock(START_S + 600.0 + ahead_s))
    assert one.session.state.is_running
    assert any("Was it that long?" in text for text in said), said
    assert one.session.now() == START_S + 600.0
    one.say("no")
    assert one.session.now() == START_S + 600.0
    assert one.session.state.pending is None


def test_a_clock_ahead_that_was_right_is_taken_when_told() -> None:
    one = kitchen()
    one.restart(VirtualClock(START_S + 600.0 + 5 * HOUR_S))
    one.say("yes")
    assert one.session.now() == START_S + 600.0 + 5 * HOUR_S


def test_a_short_absence_is_believed() -> None:
    one = kitchen()
    (back, *_) = one.restart(VirtualClock(START_S + 900.0))
    assert back.startswith("Back after 5 min")
    assert one.session.state.pending is None


@pytest.mark.parametrize("wall_s", [0.0, START_S + 700.0, START_S + 9 * 24 * HOUR_S])
def test_within_one_boot_the_time_is_exact_whatever_the_clock(wall_s: float) -> None:
    """Killed and started again five minutes later: nothing is asked."""
    one = kitchen(Booted(START_S, "one", BOOTED_S))
    said = one.restart(Booted(wall_s, "one", BOOTED_S + 600.0 + 300.0))
    assert one.session.now() == START_S + 900.0
    assert one.session.state.pending is None
    assert said[0].startswith("Back after 5 min")


@pytest.mark.parametrize("since_s", [40.0, 7000.0])
def test_another_boot_is_not_taken_for_the_same(since_s: float) -> None:
    one = kitchen(Booted(START_S, "one", BOOTED_S))
    one.restart(Booted(0.0, "two", since_s))
    assert one.session.now() == START_S + 600.0
    assert one.session.state.pending is not None


def test_after_an_answer_a_second_restart_in_that_boot_is_exact() -> None:
    one = kitchen(Booted(START_S, "one", BOOTED_S))
    one.restart(Booted(0.0, "two", 40.0))
    one.say("away ten minutes")
    now_s = one.session.now()
    assert now_s == START_S + 1200.0
    one.restart(Booted(0.0, "two", 100.0))
    assert one.session.now() == now_s + 60.0
    assert one.session.state.pending is None


def test_time_never_goes_back_in_the_journal() -> None:
    one = kitchen()
    for clock_s in (0.0, START_S + 20 * HOUR_S, 12.0):
        one.restart(VirtualClock(clock_s))
        one.wait(60.0)
        one.say("lid off")
        one.say("lid on")
    times = [entry.at_s for entry in one.log.recorded]
    assert all(a <= b for a, b in itertools.pairwise(times))
    assert times[-1] == START_S + 600.0 + 180.0
