"""What comes from a file is checked as if it had been spoken, before anything is kept.

A line that no cook could have said here is refused: a time out of order, a temperature no
meat reads, a done mark below the public guidance, a name that no terminal should print.
"""

from collections.abc import Iterator, Sequence
from dataclasses import fields, is_dataclass
from itertools import pairwise

from assistant.cook.clocktimes import known_zone
from assistant.cook.kinds import KINDS, kind_of
from assistant.cook.naming import WHY, claims
from assistant.cook.rules.dinner import TIMER_MAX_MIN
from assistant.cook.rules.fire import FUEL_MAX
from assistant.cook.rules.plausible import GRILL_HIGH_F, GRILL_LOW_F, MEAT_HIGH_F, MEAT_LOW_F
from assistant.cook.state import MOST_BIRDS
from assistant.cook.vocabulary import events as ev
from assistant.journal.errors import JournalError

LATEST_S = 4.0e9  # 2096: a clock that stands later is wrong
LONGEST_S = 30 * 86400.0
DAY_S = 86400.0
CORRECTED_F = 60.0  # the most a thermometer is believed to be off
LONGEST_TEXT = 500
Range = tuple[float, float]


def check_cook(began_s: float, recorded: Sequence[ev.Recorded]) -> None:
    """Raise JournalError naming the first event that no cook could have recorded."""
    _within("began_s", began_s, (0.0, LATEST_S))
    for entry in recorded:
        try:
            _check(entry)
        except JournalError as error:
            raise JournalError(f"event {entry.seq} ({entry.event.NAME}): {error}") from None
    for one, after in pairwise(recorded):
        if not one.at_s <= after.at_s <= recorded[0].at_s + LONGEST_S:
            raise JournalError(f"event {after.seq}: its time is out of order")


def _check(entry: ev.Recorded) -> None:
    _within("at_s", entry.at_s, (0.0, LATEST_S))
    for name, value in _values(entry.event):
        if isinstance(value, str):
            _check_text(name, value)
        elif name == "bird" and value is not None:
            _within(name, value, (1, MOST_BIRDS))
        elif isinstance(value, int | float) and not isinstance(value, bool):
            _within(name, value, (-1.0e10, 1.0e10))
    if isinstance(entry.event, ev.CookBegan):
        _check_start(entry.event)
    for name, value, limits in _limits(entry):
        if value is not None:
            _within(name, value, limits)


def _limits(entry: ev.Recorded) -> Iterator[tuple[str, float | None, Range]]:
    at_s = entry.at_s
    match entry.event:
        case ev.BirdRead(temperature=f) | ev.Corrected(temperature=f):
            high_f = MEAT_HIGH_F if isinstance(entry.event, ev.BirdRead) else GRILL_HIGH_F
            yield "temperature", f, (MEAT_LOW_F - CORRECTED_F, high_f + CORRECTED_F)
        case ev.GrillRead(temperature=f):
            yield "temperature", f, (GRILL_LOW_F - CORRECTED_F, GRILL_HIGH_F + CORRECTED_F)
        case ev.ThermometerChecked(correction_f=f):
            yield "correction_f", f, (-CORRECTED_F, CORRECTED_F)
        case ev.BirdWeighed(mass_kg=kg):
            yield "mass_kg", kg, (0.05, 50.0)
        case ev.FuelPut(count=count):
            yield "count", count, (0.0, FUEL_MAX)
        case ev.VentsSet(opening=opening):
            yield "opening", opening, (0.0, 1.0)
        case ev.ServeSet(serve_s=serve_s) | ev.Held(serve_s=serve_s):
            yield "serve_s", serve_s, (0.0, at_s + 30 * DAY_S)
        case ev.TimerStarted(due_s=due_s, minutes=minutes):
            yield "due_s", due_s, (0.0, at_s + 30 * DAY_S)
            yield "minutes", minutes, (0.0, 30 * TIMER_MAX_MIN)
        case ev.PromptSnoozed(until_s=until_s):
            yield "until_s", until_s, (0.0, at_s + DAY_S)
        case ev.Undone(target=target):
            yield "target", target, (1, entry.seq - 1)
    if isinstance(entry.event, ev.Corrected):
        yield "target", entry.event.target, (1, entry.seq - 1)


def _check_start(event: ev.CookBegan) -> None:
    """The marks and places that `cook.toml` allows."""
    if event.kind not in KINDS:
        raise JournalError(f"kind: expected one of {', '.join(KINDS)}")
    kind = kind_of(event.kind)
    _within("done_mark_f", event.done_mark_f, (kind.done_mark_f, 215.0))
    _within("sauce_mark_f", event.sauce_mark_f, (60.0, event.done_mark_f))
    _within("band_low_f", event.band_low_f, (200.0, 600.0))
    _within("band_high_f", event.band_high_f, (event.band_low_f, 600.0))
    _within("altitude_m", event.altitude_m, (-500.0, 9000.0))
    _within("outside_f", event.outside_f, (-60.0, 130.0))
    if event.birds is not None:
        _within("birds", event.birds, (1, MOST_BIRDS))
    if known_zone(event.zone) != event.zone:
        raise JournalError("zone: expected a time zone's name, such as Europe/Paris")


def _check_text(name: str, text: str) -> None:
    if len(text) > LONGEST_TEXT:
        raise JournalError(f"{name}: longer than {LONGEST_TEXT} characters")
    if not text.isprintable():
        raise JournalError(f"{name}: holds characters that cannot be printed")
    if name in {"sauce", "name", "sauces"} and claims(text):
        raise JournalError(f"{name}: {WHY}")


def _values(value: object, name: str = "") -> Iterator[tuple[str, object]]:
    """Every plain value of an event, with the name of the field that holds it."""
    if is_dataclass(value):
        for field in fields(value):
            yield from _values(getattr(value, field.name), field.name)
    elif isinstance(value, tuple):
        for one in value:
            yield from _values(one, name)
    else:
        yield name, value


def _within(name: str, value: object, limits: Range) -> None:
    low, high = limits
    if isinstance(value, bool) or not isinstance(value, int | float) or not low <= value <= high:
        raise JournalError(f"{name}: {value!r:.40} is not between {low:g} and {high:g}")
