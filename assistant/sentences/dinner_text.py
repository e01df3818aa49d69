"""The whole dinner in print: the table, and below it what a table cannot hold."""

from collections.abc import Iterator
from textwrap import wrap

from assistant.cook.clocktimes import clock_text, date_text
from assistant.cook.planning.afterwards import waits_s
from assistant.cook.planning.guests import LB_A_PERSON, feeds
from assistant.cook.planning.whole_dinner import Dinner
from assistant.sentences.phrasing import birds, capital, listed, span
from assistant.sentences.plan_text import plan_json, plan_table
from assistant.system.units import pounds

CAUTIONS = (
    "Charcoal outdoors only: it gives off carbon monoxide until it is fully out.",
    "Poultry: 165 F in every part of every bird (USDA FSIS). Hot metal: gloves on.",
)
NO_DAEMON = (
    "Turnspit does not run between now and the cook. --calendar FILE puts all of this\n"
    "into your calendar, which reminds you."
)


def dinner_table(dinner: Dinner, zone: str) -> str:
    """Return the whole plan as text, at most 80 columns."""
    table = plan_table(dinner.plan, dinner.order.birds, zone)
    told = (line for note in notes(dinner, zone) for line in wrap(note, 80, subsequent_indent="  "))
    return "\n".join([table, "", *told, "", *CAUTIONS, NO_DAEMON])


def notes(dinner: Dinner, zone: str) -> Iterator[str]:
    """Yield what the timetable cannot say, one line each."""
    yield _on_the_spit(dinner)
    waiting = _waiting(dinner)
    if waiting:
        yield waiting
    yield _charcoal(dinner, zone)
    thawing = _if_frozen(dinner, zone)
    if thawing:
        yield thawing
    yield f"Carve {birds_in_order(dinner.carve)}."
    yield _stays_hot(dinner)
    people = _people(dinner)
    if people:
        yield people


def birds_in_order(numbers: tuple[int, ...]) -> str:
    """ "bird 1", "birds 2, 1 in this order"."""
    if len(numbers) == 1:
        return f"bird {numbers[0]}"
    return f"birds {', '.join(map(str, numbers))} in this order"


def _on_the_spit(dinner: Dinner) -> str:
    known = {bird.number: bird for bird in dinner.order.birds}
    if len(known) == 1:
        return "One bird, in the middle of the spit."
    if dinner.order.grill.at_once < len(known):
        return f"On the spit {dinner.order.grill.at_once} at once, in rounds, as the table says."
    row = ", ".join(f"{n} ({pounds(known[n].mass_kg):.3g} lb)" for n in sorted(known))
    if dinner.way == "together":
        return f"From the motor end: {row}. Matched: all off together."
    first = dinner.plan.moments_of("off")[0].birds
    return f"From the motor end: {row}. Pull the far end first: {birds(first)}."


def _waiting(dinner: Dinner) -> str:
    """A bird that is done long before the table, and would cool below 140 F."""
    hot_s, waits = dict(dinner.hot_s), waits_s(dinner.plan)
    cooling = [n for n, wait_s in waits.items() if (at_s := hot_s[n]) and wait_s > at_s]
    if not cooling:
        return ""
    return (
        f"{capital(birds(cooling))} will be off up to {span(max(waits[n] for n in cooling))} before"
        " dinner: keep hot at 140 F or above (oven, covered), or plan a dinner of its own."
    )


def _charcoal(dinner: Dinner, zone: str) -> str:
    fuel = dinner.fuel
    low, likely, high = fuel.chimneys
    first, *more = fuel.loads
    parts = [f"{first[1]} to light"]
    parts += [f"{count} at {clock_text(at_s, zone, hours=24)}" for at_s, count in more]
    return (
        f"Charcoal: about {fuel.likely:.0f} briquettes ({fuel.low:.0f} to {fuel.high:.0f}), or"
        f" {likely:.1f} chimneys ({low:.1f} to {high:.1f}): {listed(parts)}."
        " By a heat balance, no published table; readings decide."
    )


def _if_frozen(dinner: Dinner, zone: str) -> str:
    """What thawing would take, where nobody said whether the birds are frozen."""
    if dinner.order.frozen:
        return ""
    found = dinner.thaw
    if found is None:
        return "If frozen: too late to thaw, even in cold water; not for a spit."
    if found.way == "cold_water":
        return (
            f"If frozen: in cold water from {_moment(found.starts_s, zone)}, changed every 30 min,"
            " then cook at once; too late for the refrigerator"
            " (24 h for each 4 to 5 lb, USDA FSIS)."
        )
    return (
        f"If frozen: into the refrigerator {_moment(found.starts_s, zone)}, at the latest"
        f" {_moment(found.latest_s, zone)} (24 h for each 4 to 5 lb, USDA FSIS)."
    )


def _moment(at_s: float, zone: str) -> str:
    return f"{date_text(at_s, zone)[:3]} {clock_text(at_s, zone, hours=24)}"


def _stays_hot(dinner: Dinner) -> str:
    """How long each stays above 140 F, off the heat; hens of one weight share a figure."""
    groups: dict[str, list[int]] = {}
    for number, hot_s in dinner.hot_s:
        text = "over 90 min" if hot_s is None else f"about {5 * round(hot_s / 300):.0f} min"
        groups.setdefault(text, []).append(number)
    parts = [f"{birds(numbers)} {text}" for text, numbers in groups.items()]
    return f"Under foil above 140 F: {'; '.join(parts)}."


def _people(dinner: Dinner) -> str:
    guests = dinner.order.guests
    if guests is None:
        return ""
    fed = feeds(dinner.order.birds)
    kinds = {bird.kind for bird in dinner.order.birds} & LB_A_PERSON.keys()
    rate = ", ".join(f"{kind} {LB_A_PERSON[kind]:g} lb" for kind in sorted(kinds))
    source = f" ({rate} raw a person, USDA FSIS)" if rate else " (one hen a person)"
    if fed < guests:
        return f"{guests} at the table: these birds feed about {fed}{source}. Buy more."
    return f"{guests} at the table: enough{source}."


def dinner_json(dinner: Dinner, zone: str) -> dict[str, object]:
    """Return the whole dinner as JSON values."""
    found = plan_json(dinner.plan, dinner.order.birds, zone)
    fuel = dinner.fuel
    found["fuel"] = {
        "briquettes": [round(one, 1) for one in (fuel.low, fuel.likely, fuel.high)],
        "chimneys": [round(one, 2) for one in fuel.chimneys],
        "loads": [{"at_s": round(at_s, 1), "briquettes": count} for at_s, count in fuel.loads],
    }
    thawing = dinner.thaw
    found["thaw"] = thawing and {
        "way": thawing.way, "starts_s": round(thawing.starts_s, 1),
        "latest_s": round(thawing.latest_s, 1), "ends_s": round(thawing.ends_s, 1),
    }  # fmt: skip
    found["frozen"] = dinner.order.frozen
    found["finish"] = dinner.way
    found["carve"] = list(dinner.carve)
    found["above_140_f_s"] = {
        str(number): None if hot_s is None else round(hot_s) for number, hot_s in dinner.hot_s
    }
    found["guests"] = dinner.order.guests
    found["feeds"] = feeds(dinner.order.birds)
    found["notes"] = list(notes(dinner, zone))
    return found
