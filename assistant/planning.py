"""`turnspit plan`: from a serving time and weights to a timetable and a calendar file."""

import json
import re
from collections.abc import Sequence
from pathlib import Path

from assistant.cook.clocktimes import next_time
from assistant.cook.plan import Grill, PlannedBird, plan
from assistant.language.calendar_file import plan_calendar
from assistant.language.plan_text import plan_json, plan_table
from assistant.language.quantities import parse_bird, parse_temperature_c

_TIME = re.compile(r"([01]?\d|2[0-3])[:.h]([0-5]\d)")


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
