"""`turnspit plan`: from a serving time and birds to the whole dinner, in print and in files."""

import json
import re
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from assistant.app import kept_plan
from assistant.cook.kinds import KINDS
from assistant.cook.naming import WHY, claims
from assistant.cook.planning.guests import birds_for
from assistant.cook.planning.plan import Grill, PlannedBird
from assistant.cook.planning.sides import Side, Where
from assistant.cook.planning.whole_dinner import Dinner, Order, placed, whole_dinner
from assistant.cook.rules.sauces import sugar_of
from assistant.grammar.grammar import Names
from assistant.grammar.when import serving_time
from assistant.heat.bird.evidence import HeatKind, Kitchen
from assistant.journal import learning
from assistant.journal.errors import JournalError
from assistant.journal.reader import JournalReader
from assistant.sentences.calendar_file import plan_calendar
from assistant.sentences.dinner_list import list_text
from assistant.sentences.dinner_text import dinner_json, dinner_table
from assistant.sentences.fridge_page import fridge_page
from assistant.system.files import write_whole
from assistant.system.places import journal_path
from assistant.system.units import parse_mass_kg, parse_temperature_c, pounds

MASS_KG = (0.2, 15.0)  # a quail to a big turkey
_SIDE = re.compile(
    r"(?P<name>.+?),? (?P<count>\d+(?:[.,]\d+)?) ?(?P<unit>min|minutes|h|hour|hours)"
    r"(?:,? (?:in the |on the )?(?P<where>kitchen|grill))?"
)
_BIRD = re.compile(
    r"(?P<words>.+?)(?:,? with (?P<sauce>.+)|,? (?P<plain>plain|no sauce|unsauced))?"
)
_NAME = re.compile(r"[A-Za-z][\w' -]{0,29}")
_PLAIN = {"no sauce", "plain", "unsauced", "nothing"}
SIDE_MIN = (1.0, 24 * 60.0)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What was typed. `birds` empty: worked out from `guests`, of `kind`."""

    serve: str
    birds: Sequence[str] = ()
    guests: int | None = None
    kind: str = "chicken"
    frozen: bool = False
    sides: Sequence[str] = ()
    grill: str | None = None
    outside_f: float = 68.0
    at_once: int = 8
    heat: HeatKind = "charcoal spit"


def make_dinner(wanted: Wanted, now_s: float, zone: str, kitchen: Kitchen | None = None) -> Dinner:
    """Return the dinner that was asked for; `kitchen` is what past cooks taught.

    Raises ValueError, one line, saying what is wrong with a time, a bird, a side dish,
    a temperature, or with the time left.
    """
    serve_s = serving_time(wanted.serve, now_s, zone)
    order = Order(
        serve_s,
        _birds(wanted),
        Grill(
            parse_temperature_c(wanted.grill) if wanted.grill else None,
            wanted.outside_f,
            wanted.at_once,
            kitchen or Kitchen(),
            wanted.heat,
        ),
        tuple(map(parse_side, wanted.sides)),
        wanted.frozen,
        wanted.guests,
    )
    return whole_dinner(order, now_s)


def learned_kitchen() -> Kitchen:
    """Return what past cooks taught; nothing where no journal can be read."""
    path = journal_path()
    if path.exists():
        with suppress(JournalError), JournalReader(path) as journal:
            return learning.kitchen_of(journal)
    return Kitchen()


def _birds(wanted: Wanted) -> tuple[PlannedBird, ...]:
    if not wanted.birds and wanted.guests is None:
        raise ValueError("no birds to plan for; give --bird once for each, or --guests")
    if not wanted.birds:
        masses = birds_for(wanted.guests or 0, wanted.kind)
        found = [PlannedBird(n, mass_kg, wanted.kind) for n, mass_kg in enumerate(masses, 1)]
    else:
        found = [parse_bird(text, number) for number, text in enumerate(wanted.birds, 1)]
    return placed(found)


def shown(dinner: Dinner, zone: str, *, as_json: bool, as_list: bool) -> str:
    """Return the dinner as it is printed."""
    if as_json:
        return json.dumps(dinner_json(dinner, zone))
    return list_text(dinner) if as_list else dinner_table(dinner, zone)


def write(
    dinner: Dinner, now_s: float, zone: str, *, calendar: Path | None, page: Path | None, keep: bool
) -> Iterator[str]:
    """Write what was asked for, and yield a line on each; the calendar last, as it needs a
    library. Raises OSError, PartMissing, and ValueError for what cannot be kept."""
    if keep:
        kept_plan.keep(kept_plan.kept_of(dinner, now_s, zone))
        yield "kept: turnspit cook takes this plan up from 24 hours before dinner"
    if page is not None:
        write_whole(page, fridge_page(dinner, zone).encode())
        yield f"page: {page}"
    if calendar is not None:
        write_whole(calendar, plan_calendar(dinner.plan, now_s))
        yield f"calendar: {calendar}"


def parse_bird(text: str, number: int = 1) -> PlannedBird:
    """Return the bird of "3.5 lb", "5 lb 8 oz", "hen 1.25 lb", "1.25 lb hen, plain", "1.6 kg
    with apricot", or "4 lb with no sauce".

    Raises ValueError saying what was expected.
    """
    found = _BIRD.fullmatch(" ".join(text.lower().split()))
    words = (found["words"] if found else text.lower()).split()
    sauce = (found["sauce"] or found["plain"] or "") if found else ""
    kind = next((word for word in words if word in KINDS), None)
    try:
        total = parse_mass_kg(" ".join(word for word in words if word != kind))
    except ValueError as error:
        raise ValueError(
            f"{text!r} is not a weight; write it like '3.5 lb', '5 lb 8 oz', '1.6 kg'"
            f" or with its kind ({', '.join(KINDS)}), and 'with apricot' for its sauce"
        ) from error
    low, high = MASS_KG
    if not low <= total <= high:
        raise ValueError(
            f"{text!r} is {total:.2f} kg; a bird weighs {low:g} to {high:g} kg"
            f" ({pounds(low):.1f} to {pounds(high):.0f} lb)"
        )
    if sauce in _PLAIN:
        return PlannedBird(number, total, kind or "chicken", sauced=False)
    name = sauce.removesuffix(" sauce").removesuffix(" glaze")
    Names(sauces=(name,) if name else ())  # raises ValueError for what cannot be said
    sugar = sugar_of(name) if name else "some"
    return PlannedBird(number, total, kind or "chicken", sugar=sugar, sauce=name or None)


def parse_side(text: str) -> Side:
    """Return the side dish of "potatoes 45 min grill" or "slaw, 20 min". Raises ValueError."""
    found = _SIDE.fullmatch(" ".join(text.split()))
    if found is None or not _NAME.fullmatch(found["name"]):
        raise ValueError(
            f"{text!r} is not a side dish; write it like 'potatoes 45 min grill' or 'slaw 20 min'"
        )
    if claims(found["name"]):
        raise ValueError(f"{found['name']!r}: {WHY}; choose another")
    minutes = float(found["count"].replace(",", ".")) * (60.0 if found["unit"][0] == "h" else 1.0)
    low, high = SIDE_MIN
    if not low <= minutes <= high:
        raise ValueError(f"{text!r}: a side dish takes {low:g} min to {high / 60:g} hours")
    where: Where = "grill" if found["where"] == "grill" else "kitchen"
    return Side(found["name"], minutes, where)
