"""Events to state: `apply` adds one, `fold` adds many. Pure.

The last `WINDOW` effective events are kept in the state with the state before
them, so that "take that back" and a correction fold again only what came after.
"""

from collections.abc import Iterable
from dataclasses import replace

from assistant.cook.rules.birds import step_bird
from assistant.cook.rules.dinner import step_dinner
from assistant.cook.rules.fire import step_fire
from assistant.cook.rules.program import step_program
from assistant.cook.rules.readiness import step_list
from assistant.cook.rules.talk import step_talk
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev

WINDOW = 64


def fold(recorded: Iterable[ev.Recorded], state: Cook | None = None) -> Cook:
    """The state after all events, in order, starting from `state` (default: empty)."""
    state = state if state is not None else Cook()
    for entry in recorded:
        state = apply(state, entry)
    return state


def apply(state: Cook, entry: ev.Recorded) -> Cook:
    """The state after one more event."""
    event = entry.event
    if isinstance(event, ev.WordsHeard):
        return _step(state, entry)
    if isinstance(event, ev.Undone | ev.Corrected):
        return _refold(state, entry, event)
    after = _step(state, entry)
    recent, anchor = (*state.recent, entry), state.anchor
    if len(recent) > WINDOW:
        anchor = _step(anchor if anchor is not None else _blank(state), recent[0])
        recent = recent[1:]
    return replace(after, recent=recent, anchor=anchor)


def _blank(state: Cook) -> Cook:
    """The state before the first event: it knows the kitchen already."""
    return Cook(kitchen=state.kitchen)


def _refold(state: Cook, entry: ev.Recorded, event: ev.Undone | ev.Corrected) -> Cook:
    """Fold the window again without, or with another temperature for, the target."""
    recent: list[ev.Recorded] = []
    for past in state.recent:
        if past.seq != event.target:
            recent.append(past)
        elif isinstance(event, ev.Corrected) and isinstance(past.event, ev.BirdRead | ev.GrillRead):
            changed = replace(past.event, temperature=event.temperature, said=event.said)
            if isinstance(changed, ev.BirdRead):
                changed = replace(changed, confirmed=bool(event.confirmed))
            recent.append(replace(past, event=changed))
    after = state.anchor if state.anchor is not None else _blank(state)
    for past in recent:
        after = _step(after, past)
    return replace(
        after, recent=tuple(recent), anchor=state.anchor, last_heard=state.last_heard,
        heard_s=state.heard_s, seq=entry.seq, at_s=entry.at_s,
    )  # fmt: skip


def _step(state: Cook, entry: ev.Recorded) -> Cook:
    state = replace(state, seq=entry.seq, at_s=entry.at_s)
    event = entry.event
    if isinstance(event, ev.BirdEvent):
        return step_bird(state, entry, event)
    if isinstance(event, ev.FireEvent):
        return step_fire(state, entry, event)
    if isinstance(event, ev.DinnerEvent):
        return step_dinner(state, entry, event)
    if isinstance(event, ev.ListEvent):
        return step_list(state, entry, event)
    if isinstance(event, ev.TalkEvent):
        return step_talk(state, entry, event)
    return step_program(state, entry, event)
