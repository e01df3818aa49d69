"""Events to state: `apply` adds one, `fold` adds many. Pure.

The last `WINDOW` effective events are kept in the state with the state before
them, so that "scratch that" and a correction fold again only what came after.
"""

from collections.abc import Iterable
from dataclasses import replace
from typing import Any, assert_never

from assistant.cook.clocktimes import known_zone
from assistant.cook.kinds import KINDS, kind_of
from assistant.cook.naming import claims, plain_name
from assistant.cook.rules.doubts import SETTLED, with_doubts, without_doubts
from assistant.cook.state import (
    AirRead,
    Bird,
    Cook,
    Fire,
    Fuel,
    Pending,
    PromptRecord,
    Reading,
    Timer,
    Trouble,
    VentsAt,
)  # fmt: skip
from assistant.cook.vocabulary import events as ev
from assistant.heat.bird.evidence import Span

WINDOW = 64
KEPT_PROMPTS = 200  # older prompt records can no longer repeat


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
        return replace(
            state, last_heard=event.words, heard_s=entry.at_s, seq=entry.seq, at_s=entry.at_s
        )
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
    event, at_s = entry.event, entry.at_s
    if isinstance(event, ev.BirdEvent):
        return _step_bird(state, entry, event)
    if isinstance(event, ev.FireEvent):
        return _step_fire(state, entry, event)
    if isinstance(event, ev.TalkEvent):
        return _step_talk(state, entry, event)
    if isinstance(event, ev.Mending | ev.WordsHeard):  # of no part of the state: see `apply`
        return state
    match event:
        case ev.CookBegan():
            return _begin(state, at_s, event)
        case ev.CookEnded():
            return replace(state, ended_s=at_s)
        case ev.ServeSet(serve_s):
            return _dinner_at(state, serve_s, at_s)
        case ev.Held(_, serve_s):
            return state if serve_s is None else _dinner_at(state, serve_s, at_s)
        case ev.ThermometerChecked():
            return replace(state, correction_f=event.correction_f, checked_s=at_s)
        case ev.ReadinessMoved(item):
            return replace(state, readiness=item)
        case ev.TroubleNoted(kind, bird):
            return replace(state, troubles=(*state.troubles, Trouble(at_s, kind, bird)))


def _begin(state: Cook, at_s: float, event: ev.CookBegan) -> Cook:
    fire = Fire(band_low_f=event.band_low_f, band_high_f=event.band_high_f)
    return replace(
        state, began_s=at_s, zone=known_zone(event.zone), scale=event.scale, kind=event.kind,
        fire=fire,
        altitude_m=event.altitude_m, outside_f=event.outside_f, expected_birds=event.birds,
        sauce_mark_f=event.sauce_mark_f, done_mark_f=event.done_mark_f,
        boot=event.boot, booted_s=event.booted_s,
        sauces=tuple(one for one in event.sauces if not claims(one[0])),
    )  # fmt: skip


def _with_bird(state: Cook, number: int, **changes: Any) -> Cook:
    """The state with that bird changed, created where it was not there."""
    bird = state.bird(number) or Bird(
        number, kind=state.kind, sauce_mark_f=state.sauce_mark_f, done_mark_f=state.done_mark_f
    )
    others = [other for other in state.birds if other.number != number]
    birds = sorted([*others, replace(bird, **changes)], key=lambda one: one.number)
    return replace(state, birds=tuple(birds))


def _dinner_at(state: Cook, serve_s: float, at_s: float) -> Cook:
    """The state with dinner at another time: side dishes not yet due move with it."""
    by_s = 0.0 if state.serve_s is None else serve_s - state.serve_s
    timers = tuple(
        replace(one, due_s=one.due_s + by_s) if one.for_dinner and one.due_s > at_s else one
        for one in state.timers
    )
    return replace(state, serve_s=serve_s, timers=timers)


def _kind(state: Cook, name: str | None) -> dict[str, Any]:
    """A bird's own kind with its marks, moved as the cook's own were from the usual."""
    if name is None or name not in KINDS:
        return {}
    moved_f = state.done_mark_f - kind_of(state.kind).done_mark_f
    own = kind_of(name)
    return {
        "kind": name, "done_mark_f": own.done_mark_f + moved_f, "sauce_mark_f": own.sauce_mark_f
    }  # fmt: skip


def _step_bird(state: Cook, entry: ev.Recorded, event: ev.BirdEvent) -> Cook:
    at_s = entry.at_s
    match event:
        case ev.BirdRead(number, temperature, _, spot):
            bird = state.bird(number)
            readings = bird.readings if bird else ()
            reading = Reading(at_s, temperature, entry.seq, spot)
            return _with_bird(state, number, readings=(*readings, reading))
        case ev.BirdWeighed(number, mass_kg, kind=kind):
            return _with_bird(state, number, mass_kg=mass_kg, **_kind(state, kind))
        case ev.SauceAssigned(number, sauce, sugar):
            return _with_bird(state, number, sauce=plain_name(sauce, "sauce"), sugar=sugar)
        case ev.BirdOn(number):
            bird = state.bird(number)
            spans = bird.on_heat if bird else ()
            on_heat = (*_closed(spans, at_s), Span(at_s))
            return _with_bird(state, number, on_heat=on_heat, off_for_good=False)
        case ev.BirdOff(number, for_good):
            bird = state.bird(number)
            on_heat = _closed(bird.on_heat if bird else (), at_s)
            return _with_bird(state, number, on_heat=on_heat, off_for_good=for_good)
        case ev.BirdSauced(number):
            bird = state.bird(number)
            return _with_bird(state, number, sauced_s=(*(bird.sauced_s if bird else ()), at_s))


def _step_fire(state: Cook, entry: ev.Recorded, event: ev.FireEvent) -> Cook:
    at_s, fire = entry.at_s, state.fire
    match event:
        case ev.GrillRead(temperature):
            reading = AirRead(at_s, temperature, entry.seq)
            fire = replace(fire, readings=(*fire.readings, reading))
        case ev.FuelPut(count, kind):
            fire = replace(fire, fuel=(*fire.fuel, Fuel(at_s, count, kind)))
        case ev.WoodPut():
            fire = replace(fire, wood_s=(*fire.wood_s, at_s))
        case ev.LidOpened():
            fire = replace(fire, lid_open=(*_closed(fire.lid_open, at_s), Span(at_s)))
        case ev.LidClosed():
            fire = replace(fire, lid_open=_closed(fire.lid_open, at_s))
        case ev.FireStarted():
            fire = replace(fire, lit_s=at_s)
        case ev.VentsSet(which, opening):
            fire = replace(fire, vents=(*fire.vents, _moved(fire, at_s, which, opening)))
        case _:
            assert_never(event)
    return replace(state, fire=fire)


def _moved(fire: Fire, at_s: float, which: str, opening: float) -> VentsAt:
    """Both vents after one was moved; a vent nobody spoke of is taken as half open."""
    last = fire.vents[-1] if fire.vents else VentsAt(at_s, 0.5, 0.5)
    bottom = last.bottom if which == "top" else opening
    return VentsAt(at_s, bottom, last.top if which == "bottom" else opening)


def _step_talk(state: Cook, entry: ev.Recorded, event: ev.TalkEvent) -> Cook:
    at_s = entry.at_s
    match event:
        case ev.TimerStarted(due_s, _, name, for_dinner):
            number = 1 + max((timer.number for timer in state.timers), default=0)
            plain = None if name is None or claims(name) else name
            timer = Timer(number, at_s, due_s, plain, for_dinner=bool(for_dinner))
            return replace(state, timers=(*state.timers, timer))
        case ev.TimerCancelled(number):
            kept = tuple(timer for timer in state.timers if timer.number != number)
            return replace(state, timers=kept)
        case ev.PromptSaid(key):
            record = _prompt(state, key)
            return _with_prompt(state, replace(record, said_s=(*record.said_s, at_s)))
        case ev.PromptAcknowledged(keys):
            for key in keys:
                state = _with_prompt(state, replace(_prompt(state, key), acknowledged_s=at_s))
            return state
        case ev.PromptSnoozed(keys, until_s):
            for key in keys:
                record = replace(_prompt(state, key), snoozed_until_s=until_s)
                state = _with_prompt(state, record)
            return state
        case ev.AskedBack(options, why, clock_s):
            doubted = with_doubts(state, options, at_s, entry.seq)
            return replace(doubted, pending=Pending(at_s, options, why, entry.seq, clock_s))
        case ev.AskBackClosed(answer):
            settled = without_doubts(state) if answer in SETTLED else state
            return replace(settled, pending=None)
        case ev.Slept():
            return replace(state, asleep=True)
        case ev.Woke():
            return replace(state, asleep=False)
        case ev.VolumeChanged(step):
            return replace(state, volume=max(-5, min(5, state.volume + step)))
        case ev.Resumed(_, boot, booted_s):
            return replace(state, boot=boot, booted_s=booted_s)


def _prompt(state: Cook, key: str) -> PromptRecord:
    return next((one for one in state.prompts if one.key == key), PromptRecord(key))


def _with_prompt(state: Cook, record: PromptRecord) -> Cook:
    others = tuple(one for one in state.prompts if one.key != record.key)
    return replace(state, prompts=(*others, record)[-KEPT_PROMPTS:])


def _closed(spans: tuple[Span, ...], at_s: float) -> tuple[Span, ...]:
    """The spans with the last one ended, if it was open."""
    if spans and spans[-1].end_s is None:
        return (*spans[:-1], Span(spans[-1].start_s, max(at_s, spans[-1].start_s)))
    return spans
