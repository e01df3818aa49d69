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
        case cmd.FuelAdded(count) if not 0 < count <= FUEL_MAX:
            return no.FuelCount(count)
        case cmd.FuelAdded(count, kind):
            put = Record((ev.FuelPut(count, kind or "briquettes"),), command)
            return at_told_time(state, put, command, now_s)
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
        case cmd.Vents(which, opening):
            return Record((ev.VentsSet(which, opening),), command)
        case cmd.Trouble(kind, bird):
            return Record((ev.TroubleNoted(kind, bird, effect_of(kind)),), command)


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
    return VentsAt(at_s, bottom, last.top if which == "bottom" else opening)
