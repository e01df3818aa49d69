"""The plan in print: a table, JSON, and the words of its calendar entries."""

from collections.abc import Sequence

from assistant.cook.clocktimes import clock_text
from assistant.cook.plan import Moment, Plan, PlannedBird
from assistant.system.units import pounds

_WORDS = {
    "readiness": "Readiness list: dry, season and truss",
    "light": "Light the charcoal, outdoors only",
    "settled": "Fire settled in its band",
    "birds_on": "On the spit",
    "first_look": "First look with the thermometer",
    "sauce": "Sauce",
    "off": "Off, once the coldest spot is at its mark",
    "rest": "Rest under loose foil",
    "carve": "Carve",
    "serve": "Dinner",
    "chill": "Leftovers in the cold by now",
}  # fmt: skip
_POINTS = {"birds_on", "first_look", "rest", "carve", "serve", "chill"}
NOTE = (
    "Times per bird come from published indirect-grill charts and the heat model;\n"
    "no public table for a motor-driven spit was found. Readings replace them."
)


def moment_words(moment: Moment) -> str:
    """Return what is to be done, with the birds it concerns."""
    words = _WORDS[moment.what]
    if not moment.birds:
        return words
    numbers = ", ".join(str(number) for number in moment.birds)
    return f"{words}: bird{'s' if len(moment.birds) > 1 else ''} {numbers}"


def spread_minutes(moment: Moment) -> int:
    """Return plus-or-minus minutes, rounded up to five where it is a spread at all."""
    half_s = max(moment.late_s - moment.likely_s, moment.likely_s - moment.early_s)
    return 0 if moment.what in _POINTS else int(-(-half_s // 300) * 5)


def plan_table(plan: Plan, birds: Sequence[PlannedBird], zone: str, *, hours: int = 24) -> str:
    """Return the timetable as text, at most 80 columns."""
    lines = [f"Dinner at {clock_text(plan.serve_s, zone, hours=hours)}", *_birds(birds), ""]
    lines.append(f"{'when':>5}  {'between':<13}  what")
    for one in plan.moments:
        clock = clock_text(one.likely_s, zone, hours=hours)
        between = ""
        if spread_minutes(one):
            early, late = (clock_text(at, zone, hours=hours) for at in (one.early_s, one.late_s))
            between = f"{early} - {late}"
        lines.append(f"{clock:>5}  {between:<13}  {moment_words(one)}")
    if not plan.on_time:
        lines += ["", "The birds should be on already: put them on now, or serve later."]
    return "\n".join([*lines, "", NOTE])


def _birds(birds: Sequence[PlannedBird]) -> list[str]:
    """One line a weight: which birds have it."""
    groups: dict[tuple[str, float], list[int]] = {}
    for bird in birds:
        groups.setdefault((bird.kind, round(bird.mass_kg, 3)), []).append(bird.number)
    return [
        f"  {kind} {', '.join(map(str, numbers))}: {pounds(mass_kg):.3g} lb ({mass_kg:.2f} kg)"
        for (kind, mass_kg), numbers in groups.items()
    ]


def plan_json(plan: Plan, birds: Sequence[PlannedBird], zone: str) -> dict[str, object]:
    """Return the plan as JSON values; times are epoch seconds and local clock times."""
    return {
        "serve_s": plan.serve_s,
        "serve": clock_text(plan.serve_s, zone, hours=24),
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
                "words": moment_words(one),
            }
            for one in plan.moments
        ],
    }
