"""`turnspit plan`: from a serving time and weights to a timetable and a calendar file."""

import json
import re
from collections.abc import Sequence
from pathlib import Path

from assistant.cook.clocktimes import next_time
from assistant.cook.kinds import KINDS
from assistant.cook.plan import Grill, PlannedBird, plan
from assistant.sentences.calendar_file import plan_calendar
from assistant.sentences.plan_text import plan_json, plan_table
from assistant.system.units import parse_mass_kg, parse_temperature_c

_TIME = re.compile(r"([01]?\d|2[0-3])[:.h]([0-5]\d)")

MASS_KG = (0.2, 15.0)  # a quail to a big turkey


def parse_bird(text: str) -> tuple[str, float]:
    """Return kind and mass in kg of "3.5 lb", "5 lb 8 oz", "1.6 kg", "hen 1.25 lb".

    Raises ValueError saying what was expected.
    """
    words = text.strip().lower()
    kind = next((name for name in KINDS if words.split(" ")[0] == name), None)
    try:
        total = parse_mass_kg(words.removeprefix(kind or "").strip())
    except ValueError as error:
        raise ValueError(
            f"{text!r} is not a weight; write it like '3.5 lb', '5 lb 8 oz', '1.6 kg'"
            f" or with a kind first ({', '.join(KINDS)})"
        ) from error
    low, high = MASS_KG
    if not low <= total <= high:
        raise ValueError(f"{text!r} is {total:.2f} kg; a bird weighs {low:g} to {high:g} kg")
    return kind or "chicken", total


def make_plan(
    serve: str,
    birds: Sequence[str],
    *,
    grill: str | None,
    outside_f: float,
    at_once: int,
    now_s: float,
    zone: str,
    as_json: bool,
    out: Path,
) -> str:
    """The timetable as text (or JSON); the calendar is written to `out`.

    Raises ValueError saying what is wrong with a time, a weight or a temperature;
    OSError where `out` cannot be written.
    """
    planned = [
        PlannedBird(number, mass_kg, kind)
        for number, (kind, mass_kg) in enumerate(map(parse_bird, birds), 1)
    ]
    timetable = plan(
        _serving(serve, now_s, zone),
        planned,
        Grill(parse_temperature_c(grill) if grill else None, outside_f, at_once),
        now_s=now_s,
    )
    out.write_bytes(plan_calendar(timetable, now_s))
    if as_json:
        return json.dumps(plan_json(timetable, planned, zone))
    return plan_table(timetable, planned, zone)


def _serving(serve: str, now_s: float, zone: str) -> float:
    match = _TIME.fullmatch(serve.strip())
    if match is None:
        raise ValueError(f"{serve!r} is not a time; write it like 19:00")
    moment = next_time(now_s, 60 * int(match[1]) + int(match[2]), zone, vague=False)
    if moment is None:
        raise ValueError(f"{serve} has just gone by; give a time still to come")
    return moment
