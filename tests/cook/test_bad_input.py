"""What cannot be, or is said twice, or at an odd hour: one sensible answer each."""

from datetime import datetime
from zoneinfo import ZoneInfo

import pytest

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import Decision, Record
from assistant.cook.rules.due import due, next_due
from assistant.cook.rules.fold import apply, fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.refusals import Refusal
from assistant.sentences import all as sentences
from tests.cook.build import insisted

ON = ((0.0, "birds on"),)


def answered(decision: Decision, state: Cook) -> str:
    """The one sentence said, in print."""
    if isinstance(decision, Refusal):
        return sentences.refusal(decision, state).text
    assert isinstance(decision, Answer)
    return sentences.answer(decision, state).text  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("words", "why", "says"),
    [
        ("added zero briquettes", "fuel_count", "nothing noted"),
        ("added five hundred briquettes", "fuel_count", "more than a grill holds"),
        ("bird three is on", "beyond_tonight", "2 birds tonight"),
        ("bird three reads 120", "beyond_tonight", "2 birds tonight"),
    ],
)
def test_refused_in_one_sentence(words: str, why: str, says: str) -> None:
    one = insisted(*ON, birds=2)
    decision = one.ask(10, words)
    assert isinstance(decision, Refusal)
    assert why == decision.WHY
    assert says in answered(decision, one.state)


def test_sauced_before_it_was_on() -> None:
    one = insisted((0, "bird one gets harissa"), birds=2)
    decision = one.ask(1, "bird one sauced")
    assert isinstance(decision, Refusal)
    assert "hasn't been on yet" in answered(decision, one.state)


def test_a_bird_put_on_twice_keeps_its_first_time() -> None:
    one = insisted(*ON, birds=2)
    decision = one.say(5, "bird one is on")
    assert isinstance(decision, Answer)
    assert "on already" in answered(decision, one.state)
    bird = one.state.bird(1)
    assert bird is not None
    assert len(bird.on_heat) == 1


def test_with_the_fire_lit_a_serving_time_gone_by_is_refused_not_moved_to_tomorrow() -> None:
    """At 16:10, "dinner at four" has gone by."""
    one = insisted((0, "fire lit"))
    decision = one.ask(10, "dinner at four")
    assert isinstance(decision, Refusal)
    assert "gone by" in answered(decision, one.state)


def serve(zone: str, now: datetime, command: cmd.Command) -> tuple[float, str]:
    """Seconds from now to the serving time, and its clock."""
    now_s = now.replace(tzinfo=ZoneInfo(zone)).timestamp()
    state = apply(Cook(), ev.Recorded(1, now_s, ev.CookBegan(zone=zone)))
    decision = decide(state, command, now_s)
    assert isinstance(decision, Record)
    event = decision.events[0]
    assert isinstance(event, ev.ServeSet)
    return event.serve_s - now_s, clock_text(event.serve_s, zone)


def test_past_midnight() -> None:
    """At 22:30 "dinner at half past twelve" is two hours away, on the next day."""
    away_s, clock = serve("Europe/Berlin", datetime(2026, 9, 5, 22, 30), cmd.ServeAt(30))  # noqa: DTZ001 - zone follows
    assert (away_s, clock) == (2 * 3600, "12:30")


@pytest.mark.parametrize(
    ("now", "away_h"),
    [(datetime(2026, 3, 28, 23, 0), 8), (datetime(2026, 10, 24, 23, 0), 10)],  # noqa: DTZ001 - zone follows
)
def test_across_the_change_of_the_clocks(now: datetime, away_h: int) -> None:
    """From eleven at night to eight: nine hours on the dial; eight or ten in fact."""
    away_s, clock = serve("Europe/Berlin", now, cmd.ServeAt(8 * 60, vague=False))
    assert clock == "8:00"
    assert away_s == away_h * 3600


def test_a_timer_across_the_change_runs_its_minutes() -> None:
    """Sixty minutes set half an hour before the clocks go back ring after sixty minutes."""
    zone = ZoneInfo("Europe/Berlin")
    now_s = datetime(2026, 10, 25, 2, 30, tzinfo=zone).timestamp()
    state = apply(Cook(), ev.Recorded(1, now_s, ev.CookBegan(zone="Europe/Berlin")))
    decision = decide(state, cmd.TimerSet(60.0), now_s)
    assert isinstance(decision, Record)
    state = apply(state, ev.Recorded(2, now_s, decision.events[0]))
    assert next_due(state) == now_s + 3600


def test_a_clock_set_back_loses_nothing() -> None:
    """An event stamped before the last one folds like any other, and what was due
    before is still due."""
    one = insisted((0, "remind me in ten minutes"), (12, "birds on"))
    one.note(5, ev.LidOpened())  # the wall clock went back seven minutes
    assert fold(one.recorded) == one.state
    assert [p.kind for p in due(one.state, one.recorded[0].at_s + 12 * 60)][-1:] == ["timer"]


def test_midnight_passes_during_a_cook() -> None:
    """A reminder set at 23:55 for ten minutes is due at 0:05, not a day later."""
    zone = ZoneInfo("Europe/Berlin")
    now_s = datetime(2026, 9, 5, 23, 55, tzinfo=zone).timestamp()
    state = apply(Cook(), ev.Recorded(1, now_s, ev.CookBegan(zone="Europe/Berlin")))
    decision = decide(state, cmd.TimerSet(10.0), now_s)
    assert isinstance(decision, Record)
    state = apply(state, ev.Recorded(2, now_s, decision.events[0]))
    assert due(state, now_s + 599) == ()
    assert [p.kind for p in due(state, now_s + 600)] == ["timer"]
    assert clock_text(now_s + 600, "Europe/Berlin") == "12:05"
