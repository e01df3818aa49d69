"""Spoken clock times to moments, in the cook's own time zone. Pure."""

from collections.abc import Iterator
from datetime import date, datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from assistant.cook.vocabulary.commands import Day

DAY_MIN = 24 * 60
HALF_MIN = DAY_MIN // 2
PAST_S = 6 * 3600.0  # a plain time gone by less than this is "already past", not tomorrow
PAST_VAGUE_S = 2 * 3600.0
NEAR_S = 4 * 3600.0  # an open time this close is meant, whatever the hour
TABLE_MIN = (10 * 60, 22 * 60)  # else an open time is one at which people dine
WEEKDAYS: tuple[Day, ...] = (
    "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday",
)  # fmt: skip


def next_time(
    now_s: float,
    minutes: int,
    zone: str,
    *,
    vague: bool,
    day: Day | None = None,
    tonight: bool = False,
) -> float | None:
    """The serving time meant by `minutes` after midnight, epoch seconds: the next to come.

    `vague` ("six thirty") may be morning or evening: the next of them, unless that is
    hours away and at night or early in the morning. `day` names the day. `tonight`: the
    fire is lit, so no other day can be meant, and a time that has just gone by gives
    None (within six hours, or, where vague, within two); so does a time of today that
    has gone by.
    """
    if day is not None:
        return _on_named_day(now_s, minutes, zone, day, vague=vague)
    if tonight and _just_gone(now_s, minutes, zone, vague=vague):
        return None
    for moment in _coming(now_s, minutes, zone, vague=vague):
        if not vague or tonight or moment - now_s <= NEAR_S or _at_table(moment, zone):
            return moment
    raise AssertionError("a time of day comes round within two days")


def last_time(now_s: float, minutes: int, zone: str, *, vague: bool) -> float:
    """The last time it was `minutes` after midnight, epoch seconds; `vague` as above."""
    halves = (minutes % HALF_MIN, minutes % HALF_MIN + HALF_MIN) if vague else (minutes,)
    today = _date(now_s, zone)
    moments = [_at(today - timedelta(days), half, zone) for days in range(2) for half in halves]
    return max(moment for moment in moments if moment <= now_s)


def _coming(now_s: float, minutes: int, zone: str, *, vague: bool) -> Iterator[float]:
    halves = (minutes % HALF_MIN, minutes % HALF_MIN + HALF_MIN) if vague else (minutes,)
    today = _date(now_s, zone)
    for days in range(3):
        for half in halves:
            moment = _at(today + timedelta(days), half, zone)
            if moment > now_s:
                yield moment


def _just_gone(now_s: float, minutes: int, zone: str, *, vague: bool) -> bool:
    halves = (minutes % HALF_MIN, minutes % HALF_MIN + HALF_MIN) if vague else (minutes,)
    within_s = PAST_VAGUE_S if vague else PAST_S
    moments = [_at(_date(now_s, zone), half, zone) for half in halves]
    return any(0 <= now_s - moment < within_s for moment in moments)


def _on_named_day(now_s: float, minutes: int, zone: str, day: Day, *, vague: bool) -> float | None:
    if vague:
        half = minutes % HALF_MIN
        minutes = half if half >= TABLE_MIN[0] else half + HALF_MIN
    today = _date(now_s, zone)
    if day not in WEEKDAYS:
        moment = _at(today + timedelta(day == "tomorrow"), minutes, zone)
        return moment if moment > now_s else None
    ahead = (WEEKDAYS.index(day) - today.weekday()) % 7
    moment = _at(today + timedelta(ahead), minutes, zone)
    return moment if moment > now_s else _at(today + timedelta(ahead + 7), minutes, zone)


def _at_table(moment_s: float, zone: str) -> bool:
    local = datetime.fromtimestamp(moment_s, ZoneInfo(zone))
    return TABLE_MIN[0] <= 60 * local.hour + local.minute < TABLE_MIN[1]


def _date(at_s: float, zone: str) -> date:
    return datetime.fromtimestamp(at_s, ZoneInfo(zone)).date()


def _at(day: date, minutes: int, zone: str) -> float:
    hour, minute = divmod(minutes, 60)
    tz = ZoneInfo(zone)
    return datetime(day.year, day.month, day.day, hour, minute, tzinfo=tz).timestamp()


def days_ahead(at_s: float, now_s: float, zone: str) -> int:
    """How many days on the calendar lie between now and then: 0 today, 1 tomorrow."""
    return (_date(at_s, zone) - _date(now_s, zone)).days


def date_text(at_s: float, zone: str) -> str:
    """The day in full: "Saturday 28 November"."""
    day = _date(at_s, zone)
    return f"{day:%A} {day.day} {day:%B}"


def known_zone(zone: str) -> str:
    """The zone, or "UTC" where this computer knows none of that name: a cook brought
    from elsewhere must still be readable."""
    try:
        ZoneInfo(zone)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        return "UTC"
    return zone


def clock_text(at_s: float, zone: str, *, hours: int = 12) -> str:
    """A moment as clock time, "6:30" (or "18:30" with `hours=24`)."""
    local = datetime.fromtimestamp(at_s, ZoneInfo(zone))
    if hours == 24:
        return f"{local.hour:02d}:{local.minute:02d}"
    return f"{(local.hour - 1) % 12 + 1}:{local.minute:02d}"
