"""Dinner and timers: what is recorded or refused, and what the state makes of it. Pure."""

from dataclasses import replace

from assistant.cook.clocktimes import next_time
from assistant.cook.naming import claims
from assistant.cook.rules.decision import Decision, Record
from assistant.cook.state import Cook, Timer
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no

TIMER_MAX_MIN = 24 * 60.0
MOST_TIMERS = 20  # running at once: no cook follows more


def decide_dinner(state: Cook, command: cmd.DinnerCommand, now_s: float) -> Decision:
    """The decision on a command about the serving time or a timer."""
    match command:
        case cmd.ServeAt(time, vague, day):
            burning = state.fire.lit_s is not None or any(one.has_been_on for one in state.birds)
            serve_s = next_time(now_s, time, state.zone, vague=vague, day=day, tonight=burning)
            if serve_s is None:
                return no.ServePast()
            return Record((ev.ServeSet(serve_s),), command)
        case cmd.ServeIn(minutes):
            if not 0 < minutes <= TIMER_MAX_MIN:
                return no.Minutes()
            return Record((ev.ServeSet(now_s + 60 * minutes),), command)
        case cmd.Hold(minutes):
            minutes = 15.0 if minutes is None else minutes
            if not 0 < minutes <= TIMER_MAX_MIN:
                return no.Minutes()
            serve_s = None if state.serve_s is None else state.serve_s + 60 * minutes
            return Record((ev.Held(minutes, serve_s),), command)
        case cmd.TimerSet(minutes, name):
            if not 0 < minutes <= TIMER_MAX_MIN:
                return no.Minutes()
            if sum(one.due_s > now_s for one in state.timers) >= MOST_TIMERS:
                return no.TooManyTimers(MOST_TIMERS)
            return Record((ev.TimerStarted(now_s + 60 * minutes, minutes, name),), command)
        case cmd.TimerCancel(name):
            running = [one for one in state.timers if name is None or one.name == name]
            running = [one for one in running if one.due_s > now_s] or running
            if not running:
                return no.NoTimer(name)
            last = running[-1]
            return Record((ev.TimerCancelled(last.number, last.name),), command)


def dinner_is_idle(state: Cook, command: cmd.DinnerCommand) -> bool:
    """Whether the command would change nothing now."""
    match command:
        case cmd.TimerCancel():
            return not state.timers
        case cmd.ServeAt() | cmd.ServeIn() | cmd.Hold() | cmd.TimerSet():
            return False


def step_dinner(state: Cook, entry: ev.Recorded, event: ev.DinnerEvent) -> Cook:
    """The state after the serving time or a timer changed."""
    at_s = entry.at_s
    match event:
        case ev.ServeSet(serve_s):
            return _dinner_at(state, serve_s, at_s)
        case ev.Held(_, serve_s):
            return state if serve_s is None else _dinner_at(state, serve_s, at_s)
        case ev.TimerStarted(due_s, _, name, for_dinner):
            number = 1 + max((timer.number for timer in state.timers), default=0)
            plain = None if name is None or claims(name) else name
            timer = Timer(number, at_s, due_s, plain, for_dinner=bool(for_dinner))
            return replace(state, timers=(*state.timers, timer))
        case ev.TimerCancelled(number):
            kept = tuple(timer for timer in state.timers if timer.number != number)
            return replace(state, timers=kept)


def _dinner_at(state: Cook, serve_s: float, at_s: float) -> Cook:
    """The state with dinner at another time: side dishes not yet due move with it."""
    by_s = 0.0 if state.serve_s is None else serve_s - state.serve_s
    timers = tuple(
        replace(one, due_s=one.due_s + by_s) if one.for_dinner and one.due_s > at_s else one
        for one in state.timers
    )
    return replace(state, serve_s=serve_s, timers=timers)
