"""The readiness list before the match: one item at a time. Pure.

The state keeps the item the list stands at; answers move it. A thermometer check
answers the first item by itself.
"""

from dataclasses import dataclass

from assistant.cook import commands as cmd
from assistant.cook import events as ev
from assistant.cook.decision import Decision, Record, Refuse, Tell
from assistant.cook.forecasts import celsius, fahrenheit
from assistant.cook.state import Cook
from assistant.heat.boiling import bath_check, boiling_point_at


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


def decide_readiness(state: Cook, command: cmd.Command) -> Decision | None:
    """The decision on a command about the list; None if it is not one."""
    place = state.readiness
    here = item_at(place)
    match command:
        case cmd.ReadinessStart():
            return Record((ev.ReadinessMoved(0, "start"),), command)
        case cmd.ThermometerCheck():
            return _thermometer(state, command)
        case cmd.ItemDone() | cmd.ItemSkip() | cmd.ItemBack() if here is None or place is None:
            return None if isinstance(command, cmd.ItemDone) else Tell("no_list")
        case cmd.ItemDone():
            return Record((ev.ReadinessMoved((place or 0) + 1, "done"),), command)
        case cmd.ItemSkip():
            return Record((ev.ReadinessMoved((place or 0) + 1, "skip"),), command)
        case cmd.ItemBack():
            return Record((ev.ReadinessMoved(max(0, (place or 0) - 1), "back"),), command)
        case cmd.Repeat() if here is not None:
            return Tell("item", item_facts(state))
        case _:
            return None


def _thermometer(state: Cook, command: cmd.ThermometerCheck) -> Decision:
    """The correction, stored; a check too far off to be the thermometer's is refused."""
    check = bath_check(command.bath, celsius(command.temperature), state.altitude_m)
    if check.trust == "doubtful":
        facts = {"command": command, "true_f": fahrenheit(check.true_c)}
        return Refuse("bath_doubtful", facts)
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


def item_facts(state: Cook) -> dict[str, object]:
    """What the item's sentence needs: its key, its place, and figures of tonight."""
    place = state.readiness
    item = item_at(place)
    weights = [(bird.number, bird.mass_kg) for bird in state.birds if bird.mass_kg is not None]
    heaviest = max(weights, key=lambda one: one[1], default=None)
    return {
        "item": item.key if item is not None else None,
        "place": place,
        "boils_f": fahrenheit(boiling_point_at(state.altitude_m)),
        "heaviest": heaviest[0] if heaviest is not None and len(weights) > 1 else None,
    }
