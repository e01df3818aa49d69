"""Dinner and timers: read-backs, and their facts as an undo names them."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.decision import Record
from assistant.cook.rules.due_dinner import standing_of
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.sentences.describe import timer_text
from assistant.sentences.phrasing import capital, dinner, minutes_text
from assistant.sentences.reasons import hold_advice

LATE_S = 450.0  # told to five minutes, less than this is on time


def dinner_told(command: cmd.DinnerCommand, record: Record, after: Cook) -> str:
    """The read-back of a command about the serving time or a timer."""
    match command:
        case cmd.ServeAt() | cmd.ServeIn():
            if after.serve_s is None:
                return ""
            return f"Dinner at {dinner(after.serve_s, after.zone, after.at_s)}."
        case cmd.Hold(minutes):
            held = [event.minutes for event in record.events if isinstance(event, ev.Held)]
            by = minutes_text(held[0] if held else minutes or 0.0)
            return f"Holding {by}{_held_to(after)} {hold_advice(after)}".strip()
        case cmd.TimerSet(minutes, name):
            return f"{capital(timer_text(minutes, name))}."
        case cmd.TimerCancel():
            gone = [event.name for event in record.events if isinstance(event, ev.TimerCancelled)]
            return f"{capital(f'{gone[0]} timer' if gone and gone[0] else 'timer')} stopped."


def _held_to(state: Cook) -> str:
    """The serving time as it is now; where the birds need longer still, that as well."""
    if state.serve_s is None:
        return "."
    to = f", to {dinner(state.serve_s, state.zone)}."
    stands = standing_of(state)
    table_s = None if stands is None else stands.table.q50
    if table_s is None or table_s - state.serve_s < LATE_S:
        return to
    return f"{to} The birds still look like {clock_text(300 * round(table_s / 300), state.zone)}."


def dinner_fact(event: ev.DinnerEvent, state: Cook) -> str:
    """A recorded fact of dinner or a timer, as an undo names it."""
    match event:
        case ev.ServeSet(serve_s):
            return f"dinner at {dinner(serve_s, state.zone)}"
        case ev.TimerStarted(_, minutes, name):
            return timer_text(minutes, name)
        case ev.TimerCancelled():
            return "the stopped timer"
        case ev.Held():
            return "the hold"
