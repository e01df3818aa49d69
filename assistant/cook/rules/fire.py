"""The fire and the grill: what is recorded or refused, and what the state makes of it. Pure."""

from dataclasses import replace
from typing import assert_never

from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.doubted_grill import is_doubtful, likelier
from assistant.cook.rules.earlier import at_told_time
from assistant.cook.rules.plausible import GRILL_HIGH_F, GRILL_LOW_F
from assistant.cook.rules.spans import closed
from assistant.cook.rules.trouble import effect_of
from assistant.cook.state import AirRead, Cook, Fire, Fuel, Trouble, VentsAt
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no
from assistant.heat.bird.evidence import Span

HANDFUL = 6.0  # pieces, where nobody counted; common practice, no source
VENT_STEP = 0.25  # of an opening, where only the way was told; common practice, no source
HOW_MANY = "how_many"
_SHARES = (0.25, 0.5, 0.75)
FUEL_MAX = 200.0  # pieces; a kettle holds about half of that


def decide_fire(
    state: Cook, command: cmd.FireCommand, now_s: float, *, confirmed: bool = False
) -> Decision:
    """The decision on a command about the fire or the grill; `confirmed`: the cook insisted."""
    match command:
        case cmd.GrillReading(temperature, said):
            if not GRILL_LOW_F <= temperature <= GRILL_HIGH_F:
                return no.GrillImpossible(command)
            if not confirmed and is_doubtful(state, command, now_s):
                return AskBack((command, *likelier(state, command, now_s)), "grill_far")
            return Record((ev.GrillRead(temperature, said),), command)
        case cmd.FuelAdded(count, kind):
            return at_told_time(state, _fuel(command, count, kind or "briquettes"), command, now_s)
        case cmd.WoodAdded():
            return Record((ev.WoodPut(),), command)
        case cmd.LidOff():
            if state.fire.lid_is_off:
                return ans.Already(command)
            return at_told_time(state, Record((ev.LidOpened(),), command), command, now_s)
        case cmd.LidOn():
            if not state.fire.lid_is_off:
                return ans.Already(command)
            return at_told_time(state, Record((ev.LidClosed(),), command), command, now_s)
        case cmd.FireLit():
            lit = Record((ev.FireStarted(),), command, notes=("outdoors",))
            return at_told_time(state, lit, command, now_s)
        case cmd.Vents(which, float() as opening):
            return Record((ev.VentsSet(which, opening),), command)
        case cmd.Vents():
            return _vents_moved(state, command)
        case cmd.Trouble(kind, bird):
            return Record((ev.TroubleNoted(kind, bird, effect_of(kind)),), command)


def _fuel(command: cmd.FuelAdded, count: float | None, kind: cmd.FuelKind) -> Decision:
    """Charcoal as counted; uncounted it is on all the same, and the count is asked."""
    if count is None:
        ask = ev.AskedBack((command,), HOW_MANY)
        return Record((ev.FuelPut(HANDFUL, kind, vague=True), ask), command)
    if not 0 < count <= FUEL_MAX:
        return no.FuelCount(count)
    return Record((ev.FuelPut(count, kind),), command)


def settle_count(state: Cook, command: cmd.Command) -> Decision | None:
    """The answer to "how many?", in place of the usual handful; None: `command` is none."""
    put = [e for e in state.recent if isinstance(e.event, ev.FuelPut) and e.event.vague]
    if not put or not isinstance(put[-1].event, ev.FuelPut):
        return None
    match command:
        case cmd.FuelAdded(float() as count, kind):
            pass
        case cmd.Number(_, said):
            count, kind = said.number, None
        case cmd.Yes() | cmd.No() | cmd.FuelAdded():
            return Record((), cmd.No(), notes=("handful",))
        case _:
            return None
    meant = cmd.FuelAdded(count, kind or put[-1].event.kind)
    decision = decide_fire(state, meant, state.at_s)
    if not isinstance(decision, Record):
        return decision
    counted = ev.FuelPut(count, meant.kind or "briquettes", put[-1].event.at_s)  # of its time
    return Record((ev.Undone(put[-1].seq), counted), meant, notes=("counted",))


def _vents_moved(state: Cook, command: cmd.Vents) -> Decision:
    """A quarter from where the vents stood; not known, it is asked."""
    last = state.fire.vents[-1] if state.fire.vents else None
    parts: tuple[cmd.Vent, ...] = ("bottom", "top")
    parts = parts if command.which == "both" else (command.which,)
    if last is None or not set(parts) <= set(last.told):
        return AskBack(tuple(cmd.Vents(command.which, one) for one in _SHARES), "vents_where")
    step = VENT_STEP if command.change == "more" else -VENT_STEP
    stood = {"bottom": last.bottom, "top": last.top}
    moved = [min(max(stood[part] + step, 0.0), 1.0) for part in parts]
    events = tuple(
        ev.VentsSet(part, at, command.change) for part, at in zip(parts, moved, strict=True)
    )
    return Record(events, command)


def fire_is_idle(state: Cook, command: cmd.FireCommand) -> bool:
    """Whether the command would change nothing now."""
    match command:
        case cmd.LidOn():
            return not state.fire.lid_is_off
        case cmd.LidOff():
            return state.fire.lid_is_off
        case (
            cmd.GrillReading() | cmd.FuelAdded() | cmd.WoodAdded() | cmd.FireLit() | cmd.Vents()
            | cmd.Trouble()
        ):  # fmt: skip
            return False


def step_fire(state: Cook, entry: ev.Recorded, event: ev.FireEvent) -> Cook:
    """The state after what became of fire or grill."""
    at_s, fire = entry.happened_s, state.fire
    match event:
        case ev.GrillRead(temperature):
            reading = AirRead(at_s, temperature, entry.seq)
            fire = replace(fire, readings=(*fire.readings, reading))
        case ev.FuelPut(count, kind):
            fire = replace(fire, fuel=_in_order((*fire.fuel, Fuel(at_s, count, kind))))
        case ev.WoodPut():
            fire = replace(fire, wood_s=(*fire.wood_s, at_s))
        case ev.LidOpened():
            fire = replace(fire, lid_open=(*closed(fire.lid_open, at_s), Span(at_s)))
        case ev.LidClosed():
            fire = replace(fire, lid_open=closed(fire.lid_open, at_s))
        case ev.FireStarted():
            fire = replace(fire, lit_s=at_s)
        case ev.VentsSet(which, opening):
            fire = replace(fire, vents=(*fire.vents, _moved(fire, at_s, which, opening)))
        case ev.TroubleNoted(kind, bird):
            return replace(state, troubles=(*state.troubles, Trouble(at_s, kind, bird)))
        case _:
            assert_never(event)
    return replace(state, fire=fire)


def _in_order(fuel: tuple[Fuel, ...]) -> tuple[Fuel, ...]:
    """The fuel by when it went on: some of it may be told later."""
    return tuple(sorted(fuel, key=lambda one: one.at_s))


def _moved(fire: Fire, at_s: float, which: str, opening: float) -> VentsAt:
    """Both vents after one was moved; a vent nobody spoke of is taken as half open."""
    last = fire.vents[-1] if fire.vents else VentsAt(at_s, 0.5, 0.5)
    bottom = last.bottom if which == "top" else opening
    top = last.top if which == "bottom" else opening
    both: tuple[cmd.Vent, ...] = ("bottom", "top")
    told = tuple(one for one in both if which in {one, "both"} or one in last.told)
    return VentsAt(at_s, bottom, top, told)
