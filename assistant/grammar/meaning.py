"""What the grammar's rules mean: slots from tags, commands from slots."""

from collections.abc import Callable, Mapping
from functools import partial
from typing import TypeGuard, get_args

from assistant.cook.vocabulary.commands import Command, Earlier, Said, Scale
from assistant.grammar.match import Collapse, Slot, Values
from assistant.heat.degrees import from_scale

_KINDS = get_args(Command)
HALF_DAY = 12 * 60
COMMANDS: Mapping[str, type] = {cls.NAME: cls for cls in _KINDS}


def is_command(value: object) -> TypeGuard[Command]:
    """Whether the value is a command."""
    return isinstance(value, _KINDS)


def fahrenheit(number: float, scale: Scale) -> float:
    """Degrees Fahrenheit, as recorded, of a number said in `scale`."""
    return number if scale == "F" else round(from_scale(number, scale), 3)


def total(values: Values) -> float:
    """The sum of the numbers among the values, free of binary dust."""
    return round(sum((value for value in values if isinstance(value, float)), 0.0), 4)


def whole(values: Values) -> int:
    """The sum as a whole number."""
    return int(total(values))


def word(values: Values) -> object:
    """The one value there is."""
    (value,) = values
    return value


def share(values: Values) -> float:
    """A fraction from its tag, unrounded: a third stays a third."""
    (value,) = values
    assert isinstance(value, float)
    return value


def percent(values: Values) -> float:
    """A fraction from a number of hundredths."""
    return total(values) / 100.0


def said(values: Values, *, scale: Scale) -> Said:
    """A temperature; `scale` is meant where none was said."""
    named: Scale = "C" if "C" in values else "F" if "F" in values else scale
    return Said(total(values), named)


def clock(values: Values) -> tuple[int, bool]:
    """Minutes after midnight, and whether morning or evening was left open.

    An open time is given on the dial from 1:00 to 12:59.
    """
    minutes = whole(values)
    if "h24" in values:
        return minutes % (2 * HALF_DAY), False
    minutes %= HALF_DAY
    if "am" in values or "pm" in values:
        return minutes + (HALF_DAY if "pm" in values else 0), False
    return minutes + (HALF_DAY if minutes < 60 else 0), True


def _in_part(time: tuple[int, bool], part: object) -> tuple[int, bool]:
    """The time in the part of the day that was named before it ("evening at six")."""
    minutes, vague = time
    if not vague or part is None:
        return time
    return minutes % HALF_DAY + (HALF_DAY if part == "pm" else 0), False


def meanings(scale: Scale) -> dict[str, Collapse]:
    """By rule name: slots, and the commands they fill."""
    temperature = partial(said, scale=scale)
    slots: list[tuple[str, str, Callable[[Values], object]]] = [
        ("bird", "bird", whole),
        ("spot", "spot", word),
        ("bird_temperature", "said", temperature),
        ("grill_temperature", "said", temperature),
        ("answer_temperature", "said", temperature),
        ("water_temperature", "said", temperature),
        ("bath", "bath", word),
        ("pounds", "pounds", total),
        ("ounces", "ounces", total),
        ("kilograms", "kilograms", total),
        ("sauce", "sauce", word),
        ("no_sauce", "sauce", word),
        ("fuel_count", "count", total),
        ("fuel_part", "count", total),
        ("fuel_kind", "kind", word),
        ("chimney", "kind", word),
        ("which_vent", "which", word),
        ("opening", "opening", share),
        ("vent_change", "change", word),
        ("vent_back", "change", word),
        ("skin", "skin", word),
        ("side", "side", word),
        ("percent", "opening", percent),
        ("clock", "clock", clock),
        ("day", "day", word),
        ("day_part", "part", word),
        ("duration", "minutes", total),
        ("snooze_count", "minutes", total),
        ("timer_name", "name", word),
        ("place", "place", whole),
        ("loose_part", "kind", word),
        ("plain_trouble", "kind", word),
        ("stuck_kind", "kind", word),
        ("ending", "kind", word),
    ]
    found: dict[str, Collapse] = {"bird_number": total}
    found |= {rule: partial(_slot, name, how) for rule, name, how in slots}
    found["earlier"] = found["ago"] = _earlier
    return found | {name: partial(_command, cls) for name, cls in COMMANDS.items()}


def _slot(name: str, how: Callable[[Values], object], values: Values) -> Slot:
    return Slot(name, how(values))


def _earlier(values: Values) -> Slot:
    """When it happened, from the span or the time of day named."""
    (named,) = (value for value in values if isinstance(value, Slot))
    if named.name == "minutes":
        assert isinstance(named.value, float)
        return Slot("when", Earlier(ago=named.value))
    if named.name == "when":
        return named
    assert isinstance(named.value, tuple)
    return Slot("when", Earlier(at=named.value[0], vague=named.value[1]))


def _command(cls: type, values: Values) -> Command:
    slots = {value.name: value.value for value in values if isinstance(value, Slot)}
    reading = slots.get("said")
    if isinstance(reading, Said):
        slots["temperature"] = fahrenheit(reading.number, reading.scale)
    if "clock" in slots:
        minutes_and_vague = slots.pop("clock")
        assert isinstance(minutes_and_vague, tuple)
        slots["time"], slots["vague"] = _in_part(minutes_and_vague, slots.pop("part", None))
    command: Command = cls(**slots)
    return command
