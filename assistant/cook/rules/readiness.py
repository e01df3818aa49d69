"""The readiness list before the match: one item at a time. Pure.

The state keeps the item the list stands at; answers move it. A thermometer check
answers the first item by itself.
"""

from dataclasses import dataclass, replace

from assistant.cook.rules.decision import Decision, Record
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import ListItem, NoList
from assistant.cook.vocabulary.refusals import BathDoubtful
from assistant.heat.boiling import bath_check, boiling_point_at
from assistant.heat.degrees import celsius, fahrenheit


@dataclass(frozen=True, slots=True)
class Item:
    """One thing to see to. `caution`: it is said with a warning."""

    key: str
    caution: bool = False


ITEMS = (
    Item("thermometer"),
    Item("dry_seasoned", caution=True),  # raw poultry
    Item("tied"),
    Item("forks"),
    Item("balance"),
    Item("drip_pan"),
    Item("charcoal", caution=True),  # outdoors only
    Item("grill_probe"),
    Item("gloves", caution=True),  # hot metal
    Item("string"),
    Item("clean_plate", caution=True),  # raw poultry
)


def item_at(place: int | None) -> Item | None:
    """Return the item the list stands at; None before the first and after the last."""
    return ITEMS[place] if place is not None and 0 <= place < len(ITEMS) else None


def decide_list(state: Cook, command: cmd.ListCommand | cmd.ItemDone) -> Decision:
    """The decision on a command about the list."""
    place = state.readiness or 0
    match command:
        case cmd.ReadinessStart():
            return Record((ev.ReadinessMoved(0, "start"),), command)
        case cmd.ThermometerCheck():
            return _thermometer(state, command)
        case cmd.ItemDone() | cmd.ItemSkip() | cmd.ItemBack() if item_at(state.readiness) is None:
            return NoList()
        case cmd.ItemDone():
            return Record((ev.ReadinessMoved(place + 1, "done"),), command)
        case cmd.ItemSkip():
            return Record((ev.ReadinessMoved(place + 1, "skip"),), command)
        case cmd.ItemBack():
            return Record((ev.ReadinessMoved(max(0, place - 1), "back"),), command)


def _thermometer(state: Cook, command: cmd.ThermometerCheck) -> Decision:
    """The correction, stored; a check too far off to be the thermometer's is refused."""
    check = bath_check(command.bath, celsius(command.temperature), state.altitude_m)
    if check.trust == "doubtful":
        return BathDoubtful(fahrenheit(check.true_c))
    correction_f = round(check.correction_c * 1.8, 1)
    if check.trust == "good" and abs(correction_f) < 0.5:
        correction_f = 0.0
    events: tuple[ev.Event, ...] = (
        ev.ThermometerChecked(command.bath, command.temperature, command.said, correction_f),
    )
    here = item_at(state.readiness)
    if here is not None and here.key == "thermometer":
        events = (*events, ev.ReadinessMoved((state.readiness or 0) + 1, "done"))
    return Record(events, command)


def list_item(state: Cook) -> ListItem:
    """The item the list stands at, with figures of tonight."""
    item = item_at(state.readiness)
    weights = [(bird.number, bird.mass_kg) for bird in state.birds if bird.mass_kg is not None]
    heaviest = max(weights, key=lambda one: one[1], default=None)
    return ListItem(
        item.key if item is not None else None,
        boils_f=fahrenheit(boiling_point_at(state.altitude_m)),
        heaviest=heaviest[0] if heaviest is not None and len(weights) > 1 else None,
    )


def list_is_idle(command: cmd.ListCommand) -> bool:
    """Whether the command would change nothing now: of the list none would."""
    match command:
        case cmd.ReadinessStart() | cmd.ItemSkip() | cmd.ItemBack() | cmd.ThermometerCheck():
            return False


def step_list(state: Cook, entry: ev.Recorded, event: ev.ListEvent) -> Cook:
    """The state after the list moved or the thermometer was checked."""
    match event:
        case ev.ThermometerChecked():
            return replace(state, correction_f=event.correction_f, checked_s=entry.at_s)
        case ev.ReadinessMoved(item):
            return replace(state, readiness=item)
