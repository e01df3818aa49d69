"""The plan as an iCalendar file (RFC 5545), by the icalendar library."""

from datetime import UTC, datetime, timedelta
from hashlib import sha256
from typing import Any

from assistant.cook.planning.plan import Moment, Plan
from assistant.sentences.plan_text import moment_words, spread_minutes
from assistant.system.parts import lazy

icalendar = lazy("icalendar")

_RINGS = {
    "buy", "thaw_refrigerator", "thaw_cold_water", "salt", "sauces", "readiness", "light",
    "birds_on", "first_look", "sauce", "fuel", "off", "side_kitchen", "side_grill",
    "side_beside", "chill",
}  # fmt: skip
SHORTEST = timedelta(minutes=5)


def plan_calendar(plan: Plan, made_s: float) -> bytes:
    """Return the plan as an .ics file, times in UTC so that any calendar shows its own.

    `made_s` (epoch seconds) is the stamp. The same plan always has the same entry ids, so
    importing a newer plan of the same dinner replaces the older. Raises PartMissing
    without icalendar.
    """
    calendar = icalendar.Calendar()
    calendar.add("prodid", "-//Turnspit//plan//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    for index, moment in enumerate(plan.moments):
        calendar.add_component(_event(plan, moment, index, made_s))
    return bytes(calendar.to_ical())


def _event(plan: Plan, moment: Moment, index: int, made_s: float) -> Any:
    event = icalendar.Event()
    words = moment_words(moment)
    seed = f"{plan.serve_s:.0f}/{moment.what}/{moment.birds}/{index}"
    event.add("uid", f"{sha256(seed.encode()).hexdigest()[:24]}@turnspit")
    event.add("dtstamp", _utc(made_s))
    start, end = _utc(moment.likely_s), _utc(moment.likely_s) + SHORTEST
    if moment.what == "sauce":
        end = max(end, _utc(moment.late_s))
    event.add("dtstart", start)
    event.add("dtend", end)
    event.add("summary", words)
    spread = spread_minutes(moment)
    if spread:
        event.add("description", f"Give or take {spread} minutes. Readings decide.")
    if moment.what in _RINGS:
        event.add_component(_alarm(words))
    return event


def _alarm(words: str) -> Any:
    alarm = icalendar.Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", words)
    alarm.add("trigger", timedelta(minutes=-5))
    return alarm


def _utc(at_s: float) -> datetime:
    return datetime.fromtimestamp(int(at_s // 60) * 60, UTC)  # the minute the table shows
