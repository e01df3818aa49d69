"""The birds: what is recorded, asked back or refused, and what the state makes of it. Pure."""

from dataclasses import replace
from typing import Any

from assistant.cook.kinds import KINDS, kind_of
from assistant.cook.naming import plain_name
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.earlier import at_told_time, cannot_be, happened_s
from assistant.cook.rules.lifting import asks_before_lifting, is_below
from assistant.cook.rules.plausible import (
    better_neighbours,
    doubt,
)
from assistant.cook.rules.sauces import sugar_of
from assistant.cook.rules.spans import closed
from assistant.cook.state import Bird, Cook, Reading
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no
from assistant.cook.vocabulary.answers import AllOff, Already
from assistant.heat.bird.evidence import Span

POUND_KG = 0.45359237  # exact, international pound
MASS_LOW_KG, MASS_HIGH_KG = 0.25, 15.0  # a quail to a big turkey
USUAL_BIRDS = 2  # "birds on" when nobody said how many


def decide_bird(
    state: Cook, command: cmd.BirdCommand, now_s: float, *, confirmed: bool = False
) -> Decision:
    """The decision on a command about a bird.

    `confirmed`: the cook insisted, so nothing is asked back again.
    """
    beyond = beyond_tonight(state, command)
    if beyond is not None:
        return beyond
    match command:
        case cmd.BirdReading():
            read = _reading(state, command, now_s, confirmed=confirmed)
            return at_told_time(state, read, command, now_s)
        case cmd.BirdWeight():
            return _weight(command, confirmed=confirmed)
        case cmd.BirdSauce(bird, sauce):
            return Record((ev.SauceAssigned(bird, sauce, sugar_of(sauce, state.sauces)),), command)
        case cmd.BirdSkin(bird, skin):
            return Record((ev.SkinTold(bird, skin),), command)
        case cmd.BirdsOn(bird):
            return at_told_time(state, _on(state, command, bird), command, now_s)
        case cmd.BirdsOff(bird):
            off = _off(state, command, now_s, confirmed=confirmed)
            return at_told_time(state, off, command, now_s)
        case cmd.Sauced(bird):
            return at_told_time(state, _sauced(state, command, bird), command, now_s)
        case cmd.Rest():
            return _rest(state, command, now_s, confirmed=confirmed)
        case cmd.Carve(bird):
            return _carve(state, command, bird)
        case cmd.MotorSide(side):
            return Record((ev.MotorSideTold(side),), command)


def beyond_tonight(state: Cook, command: cmd.Command) -> no.BeyondTonight | None:
    """The refusal of a command about a bird that is not there tonight."""
    number = getattr(command, "bird", None)
    tonight = state.expected_birds
    if not isinstance(number, int) or tonight is None or number <= tonight:
        return None
    return no.BeyondTonight(number, tonight)


def _reading(state: Cook, command: cmd.BirdReading, now_s: float, *, confirmed: bool) -> Decision:
    corrected = replace(command, temperature=command.temperature + state.correction_f)
    event = ev.BirdRead(
        command.bird, corrected.temperature, command.said, command.spot, confirmed=confirmed
    )
    at_s = happened_s(state, command, now_s)
    refusal = cannot_be(state, (event,), at_s, now_s)
    if refusal is not None:
        return refusal
    why = doubt(state, corrected, at_s)
    if why in {"too_hot", "too_cold"}:
        options = better_neighbours(state, command, at_s)
        if options and not confirmed:
            return AskBack(options, why)
        return no.NoMeatReads(command)
    if why and not confirmed:
        return AskBack((command, *better_neighbours(state, command, at_s)), why)
    return Record((event,), command, notes=_reading_notes(state, event))


def _reading_notes(state: Cook, event: ev.BirdRead) -> tuple[str, ...]:
    """What the read-back adds: a mark reached, the other spot still to read, not on."""
    bird = state.bird(event.bird)
    if bird is None or not bird.has_been_on:
        return ("never_on",)
    if event.temperature >= bird.done_mark_f:
        return ("done_spot",)
    if event.temperature >= bird.sauce_mark_f and not bird.is_plain and not bird.sauced_s:
        return ("sauce_mark",)
    return ()


def _weight(command: cmd.BirdWeight, *, confirmed: bool) -> Decision:
    mass_kg = command.kilograms or 0.0
    if command.pounds is not None:
        mass_kg = (command.pounds + (command.ounces or 0.0) / 16) * POUND_KG
    if not MASS_LOW_KG <= mass_kg <= MASS_HIGH_KG and not confirmed:
        return no.NoBirdWeighs()
    event = ev.BirdWeighed(command.bird, mass_kg, command.pounds, command.ounces, command.kilograms)
    return Record((event,), command)


def _on(state: Cook, command: cmd.BirdsOn, number: int | None) -> Decision:
    if number is not None:
        bird = state.bird(number)
        if bird is not None and bird.is_on and command.when is None:
            return Already(command)
        return Record((ev.BirdOn(number),), command)
    numbers = range(1, (state.tonight or USUAL_BIRDS) + 1)
    off = [one for one in numbers if not _is_on_or_done(state.bird(one))]
    if not off and command.when is not None:  # on already, and told since when
        off = [bird.number for bird in state.birds if bird.is_on]
    if not off:
        return Already(command) if any(bird.is_on for bird in state.birds) else AllOff()
    return Record(tuple(ev.BirdOn(one) for one in off), command)


def _is_on_or_done(bird: Bird | None) -> bool:
    return bird is not None and (bird.is_on or bird.is_pulled or bird.off_for_good)


def _off(
    state: Cook, command: cmd.BirdsOff, now_s: float, *, confirmed: bool, resting: bool = False
) -> Decision:
    """`resting`: said to be for good."""
    number = command.bird
    birds = [bird for bird in state.birds if bird.is_on and number in {None, bird.number}]
    if not birds:
        return no.NotOn(number)
    below = [
        bird
        for bird in birds
        if asks_before_lifting(state, bird, now_s) or (resting and is_below(bird))
    ]
    # One spit: where another of them is lifted off for its sauce, all are.
    for_good = len(below) > 0 and all(bird in below or bird.is_done for bird in birds)
    if for_good and not confirmed:
        return AskBack((command,), "below_mark")
    notes = ("resting",) if all(bird.is_done for bird in birds) else ()
    events = tuple(ev.BirdOff(bird.number, for_good=for_good and bird in below) for bird in birds)
    return Record(events, command, notes=notes)


def _rest(state: Cook, command: cmd.Rest, now_s: float, *, confirmed: bool) -> Decision:
    """Off, as hard to believe as any lifting off; off already is how things stand."""
    decision = _off(state, cmd.BirdsOff(command.bird), now_s, confirmed=confirmed, resting=True)
    if isinstance(decision, Record):
        return replace(decision, replies_to=command)
    if isinstance(decision, AskBack):
        return replace(decision, options=(command,))
    been_on = [b for b in state.birds if b.has_been_on and command.bird in {None, b.number}]
    return Already(command) if been_on else decision


def _carve(state: Cook, command: cmd.Carve, number: int | None) -> Decision:
    birds = [bird for bird in state.birds if bird.has_been_on and number in {None, bird.number}]
    off = tuple(bird.number for bird in birds if not bird.is_on)
    if off:
        return Record(tuple(ev.Carved(one) for one in off), command)
    return no.StillOn(tuple(bird.number for bird in birds)) if birds else no.NotOnYet()


def off_for_now(state: Cook, command: cmd.BirdsOff | cmd.Rest) -> Record:
    """Off the heat, but not for good: the answer to the question was no."""
    birds = [bird for bird in state.birds if bird.is_on and command.bird in {None, bird.number}]
    return Record(tuple(ev.BirdOff(bird.number) for bird in birds), command, notes=("for_now",))


def _sauced(state: Cook, command: cmd.Sauced, number: int | None) -> Decision:
    if number is not None:
        bird = state.bird(number)
        if bird is None or not bird.has_been_on:
            return no.SaucedBeforeOn(number)
        return Record((ev.BirdSauced(number),), command)
    birds = [bird for bird in state.cooking if not bird.is_plain]
    off = [bird for bird in birds if not bird.is_on]
    meant = off or [bird for bird in birds if not bird.sauced_s] or birds
    if not meant:
        return no.SaucedBeforeOn(None)
    return Record(tuple(ev.BirdSauced(bird.number) for bird in meant), command)


def bird_is_idle(state: Cook, command: cmd.BirdCommand) -> bool:
    """Whether the command would change nothing now, or cannot be."""
    birds = {bird.number: bird for bird in state.birds}
    match command:
        case cmd.BirdsOn(number):
            some = birds.values() if number is None else [birds[number]] if number in birds else []
            return bool(some) and all(bird.is_on for bird in some)
        case cmd.BirdsOff(number) | cmd.Rest(number):
            return not any(bird.is_on and number in {None, bird.number} for bird in state.birds)
        case cmd.Sauced(None):
            return not state.cooking
        case cmd.Sauced(number):
            return not any(bird.has_been_on and bird.number == number for bird in state.birds)
        case cmd.Carve(number):
            return not any(
                bird.has_been_on and not bird.is_on and number in {None, bird.number}
                for bird in state.birds
            )
        case (
            cmd.BirdReading() | cmd.BirdWeight() | cmd.BirdSauce() | cmd.BirdSkin()
            | cmd.MotorSide()
        ):  # fmt: skip
            return False


def step_bird(state: Cook, entry: ev.Recorded, event: ev.BirdEvent) -> Cook:
    """The state after what became of a bird."""
    at_s = entry.happened_s
    match event:
        case ev.BirdRead(number, temperature, _, spot, confirmed):
            bird = state.bird(number)
            readings = bird.readings if bird else ()
            reading = Reading(at_s, temperature, entry.seq, spot, confirmed)
            in_order = sorted((*readings, reading), key=lambda one: one.at_s)
            return _with_bird(state, number, readings=tuple(in_order))
        case ev.BirdWeighed(number, mass_kg, kind=kind):
            return _with_bird(state, number, mass_kg=mass_kg, **_kind(state, kind))
        case ev.SauceAssigned(number, sauce, sugar):
            return _with_bird(state, number, sauce=plain_name(sauce, "sauce"), sugar=sugar)
        case ev.SkinTold():
            return state  # noted; nothing is worked out from it
        case ev.BirdOn(number):
            bird = state.bird(number)
            spans = bird.on_heat if bird else ()
            if event.at_s is not None and spans and spans[-1].end_s is None:
                spans = spans[:-1]  # it is on: since then
            on_heat = (*closed(spans, at_s), Span(at_s))
            return _with_bird(state, number, on_heat=on_heat, off_for_good=False, carved_s=None)
        case ev.BirdOff(number, for_good):
            bird = state.bird(number)
            on_heat = closed(bird.on_heat if bird else (), at_s)
            return _with_bird(state, number, on_heat=on_heat, off_for_good=for_good)
        case ev.BirdSauced(number):
            bird = state.bird(number)
            return _with_bird(state, number, sauced_s=(*(bird.sauced_s if bird else ()), at_s))
        case ev.Carved(number):
            return _with_bird(state, number, carved_s=at_s)
        case ev.MotorSideTold(side):
            return replace(state, motor_side=side)


def _with_bird(state: Cook, number: int, **changes: Any) -> Cook:
    """The state with that bird changed, created where it was not there."""
    bird = state.bird(number) or Bird(
        number, kind=state.kind, sauce_mark_f=state.sauce_mark_f, done_mark_f=state.done_mark_f
    )
    others = [other for other in state.birds if other.number != number]
    birds = sorted([*others, replace(bird, **changes)], key=lambda one: one.number)
    return replace(state, birds=tuple(birds))


def _kind(state: Cook, name: str | None) -> dict[str, Any]:
    """A bird's own kind with its marks, moved as the cook's own were from the usual."""
    if name is None or name not in KINDS:
        return {}
    moved_f = state.done_mark_f - kind_of(state.kind).done_mark_f
    own = kind_of(name)
    return {
        "kind": name, "done_mark_f": own.done_mark_f + moved_f, "sauce_mark_f": own.sauce_mark_f
    }  # fmt: skip
