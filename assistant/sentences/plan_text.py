"""The plan in print: a table, JSON, and the words of its calendar entries."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from assistant.cook.clocktimes import clock_text, date_text
from assistant.cook.planning.plan import Moment, Plan, PlannedBird
from assistant.system.units import pounds

_WORDS = {
    "kit": "Lay out the kit, check the thermometer in ice water",
    "buy": "From now on buy fresh birds (raw they keep 1 to 2 days)",
    "thaw_refrigerator": "Into the refrigerator to thaw, {amount:.0f} h",
    "thaw_cold_water": "Thaw in cold water, changed every 30 min",
    "salt": "Dry-salt, uncovered in the refrigerator",
    "sauces": "Make the sauces; a brush for each, one clean for the end",
    "readiness": "Birds out: dry, truss, balance; wash hands after",
    "light": "Light the charcoal, outdoors only",
    "settled": "Fire settled in its band",
    "birds_on": "On the spit",
    "first_look": "First look with the thermometer",
    "sauce": "Stop: lift out, sauce",
    "fuel": "{amount:.0f} briquettes on",
    "off": "Off, once the coldest spot is at its mark",
    "side_kitchen": "{name} in the kitchen, {amount:.0f} min",
    "side_grill": "{name} on the grill, {amount:.0f} min",
    "side_beside": "{name} on the grill beside the birds, {amount:.0f} min",
    "rest": "Rest under loose foil",
    "carve": "Carve",
    "fire_out": "Close all vents, lid on; carbon monoxide till it is out",
    "serve": "Dinner",
    "chill": "Leftovers in the cold by now; eat within 3 to 4 days",
    "bones": "Bones in the soup pot or in the cold by now",
    "ash": "Ash can still be hot: metal can with a lid, outdoors",
}  # fmt: skip
_SPREAD = {"light", "settled", "sauce", "off"}
MOST_NAMED = 4  # birds told one by one
TOO_LATE = "The birds should be on already: put them on now, or serve later."
NOTE = (
    "Times per bird come from published indirect-grill charts and the heat model;\n"
    "no public table for a motor-driven spit was found. Readings replace them."
)


def moment_words(moment: Moment) -> str:
    """Return what is to be done, with the birds it concerns."""
    name = moment.name[:1].upper() + moment.name[1:]
    words = _WORDS[moment.what].format(name=name, amount=moment.amount)
    if not moment.birds:
        return words
    numbers = ", ".join(str(number) for number in moment.birds)
    if len(moment.birds) > MOST_NAMED and sorted(moment.birds) == list(moment.birds):
        numbers = f"{moment.birds[0]} to {moment.birds[-1]}"
    if moment.what == "sauce":
        named = f"bird {numbers}" if len(moment.birds) == 1 else f"{numbers} in this order"
        return f"{words} {named}, back on"
    return f"{words}: bird{'s' if len(moment.birds) > 1 else ''} {numbers}"


def spread_minutes(moment: Moment) -> int:
    """Return plus-or-minus minutes, rounded up to five where it is a spread at all."""
    half_s = max(moment.late_s - moment.likely_s, moment.likely_s - moment.early_s)
    return int(-(-half_s // 300) * 5) if moment.what in _SPREAD else 0


def plan_table(plan: Plan, birds: Sequence[PlannedBird], zone: str, *, hours: int = 24) -> str:
    """Return the timetable as text, at most 80 columns."""
    clock = clock_text(plan.serve_s, zone, hours=hours)
    lines = [f"Dinner at {clock}, {date_text(plan.serve_s, zone)}", *_birds(birds), ""]
    lines += moment_lines(plan, zone, hours=hours)
    if not plan.on_time:
        lines += ["", TOO_LATE]
    return "\n".join([*lines, "", NOTE])


def moment_lines(plan: Plan, zone: str, *, hours: int = 24) -> Iterator[str]:
    """Yield the moments, one a line, under the day each falls on."""
    day = ""
    yield f"{'when':>5}  {'between':<13}  what"
    for one in plan.moments:
        if date_text(one.likely_s, zone) != day:
            day = date_text(one.likely_s, zone)
            yield day
        clock = clock_text(one.likely_s, zone, hours=hours)
        yield f"{clock:>5}  {between(one, zone, hours=hours):<13}  {moment_words(one)}"


def between(moment: Moment, zone: str, *, hours: int = 24) -> str:
    """Return the earliest and the latest clock time, "" where there is no spread."""
    if not spread_minutes(moment):
        return ""
    early_s, late_s = moment.early_s, moment.late_s
    return " - ".join(clock_text(at_s, zone, hours=hours) for at_s in (early_s, late_s))


def _birds(birds: Sequence[PlannedBird]) -> list[str]:
    """One line a weight and sauce: which birds have it."""
    groups: dict[tuple[str, float, str], list[int]] = {}
    for bird in birds:
        sauce = f", {bird.sauce}" if bird.sauce else "" if bird.sauced else ", plain"
        groups.setdefault((bird.kind, round(bird.mass_kg, 3), sauce), []).append(bird.number)
    return [
        f"  {kind} {', '.join(map(str, numbers))}: {pounds(mass_kg):.3g} lb"
        f" ({mass_kg:.2f} kg){sauce}"
        for (kind, mass_kg, sauce), numbers in groups.items()
    ]


def plan_json(plan: Plan, birds: Sequence[PlannedBird], zone: str) -> dict[str, object]:
    """Return the plan as JSON values; times are epoch seconds and local clock times."""
    return {
        "serve_s": plan.serve_s,
        "serve": clock_text(plan.serve_s, zone, hours=24),
        "date": _iso_day(plan.serve_s, zone),
        "on_time": plan.on_time,
        "birds": [
            {"bird": bird.number, "kind": bird.kind, "mass_kg": round(bird.mass_kg, 4)}
            for bird in birds
        ],
        "moments": [
            {
                "what": one.what,
                "birds": list(one.birds),
                "early_s": round(one.early_s, 1),
                "likely_s": round(one.likely_s, 1),
                "late_s": round(one.late_s, 1),
                "clock": clock_text(one.likely_s, zone, hours=24),
                "date": _iso_day(one.likely_s, zone),
                "words": moment_words(one),
            }
            for one in plan.moments
        ],
    }


def _iso_day(at_s: float, zone: str) -> str:
    return datetime.fromtimestamp(at_s, ZoneInfo(zone)).date().isoformat()
