"""The fire and the grill: what is recorded or refused, and what the state makes of it. Pure."""

from dataclasses import replace
from typing import assert_never

from assistant.cook.rules.birds import decide_bird
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.doubted_grill import is_doubtful, likelier
from assistant.cook.rules.earlier import at_told_time, cannot_be, happened_s
from assistant.cook.rules.plausible import GRILL_HIGH_F, GRILL_LOW_F
from assistant.cook.rules.spans import closed
from assistant.cook.rules.trouble import LASTS_S, effect_of, ended
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
            at_s = happened_s(state, command, now_s)
            read = Record((ev.GrillRead(temperature, said),), command)
            refusal = cannot_be(state, read.events, at_s, now_s)
            if refusal is None and not confirmed and is_doubtful(state, command, at_s):
                return AskBack((command, *likelier(state, command, at_s)), "grill_far")
            return at_told_time(state, read, command, now_s)
        case cmd.FuelAdded(count, kind):
            return at_told_time(state, _fuel(command, count, kind or "briquettes"), command, now_s)
        case cmd.WoodAdded():
            return at_told_time(state, Record((ev.WoodPut(),), command), command, now_s)
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
            moved = Record((ev.VentsSet(which, opening),), command)
            return at_told_time(state, moved, command, now_s)
        case cmd.Vents():
            return at_told_time(state, _vents_moved(state, command), command, now_s)
        case cmd.Trouble(kind, bird):
            noted = Record((ev.TroubleNoted(kind, bird, effect_of(kind)),), command)
            return at_told_time(state, noted, command, now_s)
        case cmd.TroubleOver(kind):
            lasted = any(one.kind == kind and one.ended_s is None for one in state.troubles)
            if kind == "spit_stopped" and not lasted and _spit_is_out(state):
                return decide_bird(state, cmd.BirdsOn(), now_s)  # "the spit's back on"
            notes = () if lasted else ("never_told",)
            over = Record((ev.TroubleEnded(kind),), command, notes=notes)
            return at_told_time(state, over, command, now_s)


def _spit_is_out(state: Cook) -> bool:
    """Whether the birds are off to be sauced: none is on, and none of them is done."""
    waiting = [bird for bird in state.cooking if bird.has_been_on]
    return bool(waiting) and not any(bird.is_on for bird in waiting)


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
    """A quarter from where the vents stood, or back to it; not known, it is asked."""
    last = state.fire.vents[-1] if state.fire.vents else None
    if command.change == "back":
        last = _before(state, last)
    parts: tuple[cmd.Vent, ...] = ("bottom", "top")
    parts = parts if command.which == "both" else (command.which,)
    if last is None or not set(parts) <= set(last.told):
        shares = (cmd.Vents(command.which, one, when=command.when) for one in _SHARES)
        return AskBack(tuple(shares), "vents_where")
    step = {"more": VENT_STEP, "less": -VENT_STEP, "back": 0.0, None: 0.0}[command.change]
    stood = {"bottom": last.bottom, "top": last.top}
    moved = [min(max(stood[part] + step, 0.0), 1.0) for part in parts]
    events = tuple(
        ev.VentsSet(part, at, command.change) for part, at in zip(parts, moved, strict=True)
    )
    return Record(events, command)


def _before(state: Cook, last: VentsAt | None) -> VentsAt | None:
    """How the vents stood before they were moved; after a flare-up, before all that was
    moved for it."""
    if last is None:
        return None
    since_s = last.at_s
    flares_s = [one.at_s for one in state.troubles if one.kind == "flare_up"]
    if flares_s and flares_s[-1] <= since_s < flares_s[-1] + LASTS_S["flare_up"]:
        since_s = flares_s[-1]
    stood = [one for one in state.fire.vents if one.at_s < since_s]
    return stood[-1] if stood else None


def fire_is_idle(state: Cook, command: cmd.FireCommand) -> bool:
    """Whether the command would change nothing now."""
    match command:
        case cmd.LidOn():
            return not state.fire.lid_is_off
        case cmd.LidOff():
            return state.fire.lid_is_off
        case (
            cmd.GrillReading() | cmd.FuelAdded() | cmd.WoodAdded() | cmd.FireLit() | cmd.Vents()
            | cmd.Trouble() | cmd.TroubleOver()
        ):  # fmt: skip
            return False


def step_fire(state: Cook, entry: ev.Recorded, event: ev.FireEvent) -> Cook:
    """The state after what became of fire or grill."""
    at_s, fire = entry.happened_s, state.fire
    match event:
        case ev.GrillRead(temperature):
            readings = (*fire.readings, AirRead(at_s, temperature, entry.seq))
            fire = replace(fire, readings=tuple(sorted(readings, key=lambda one: one.at_s)))
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
        case ev.TroubleEnded(kind):
            return replace(state, troubles=ended(state.troubles, kind, at_s))
        case _:
            assert_never(event)
    return replace(state, fire=fire)


def _in_order(fuel: tuple[Fuel, ...]) -> tuple[Fuel, ...]:
    """The fuel by when it went on: some of it may be told later."""
    return tuple(sorted(fuel, key=lambda one: one.at_s))


def _moved(fire: Fire, at_s: float, which: str, opening: float) -> VentsAt:
    """Both vents after one was moved; a vent nobody spoke of stands half open, and as not told."""
    last = fire.vents[-1] if fire.vents else VentsAt(at_s, 0.5, 0.5)
    bottom = last.bottom if which == "top" else opening
    top = last.top if which == "bottom" else opening
    both: tuple[cmd.Vent, ...] = ("bottom", "top")
    told = tuple(one for one in both if which in {one, "both"} or one in last.told)
    return VentsAt(at_s, bottom, top, told)
