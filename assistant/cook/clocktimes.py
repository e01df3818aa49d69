"""Spoken clock times to moments, in the cook's own time zone. Pure."""

from datetime import datetime, timedelta
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

DAY_MIN = 24 * 60
PAST_S = 6 * 3600.0  # a plain time gone by less than this is "already past", not tomorrow
PAST_VAGUE_S = 2 * 3600.0


def next_time(now_s: float, minutes: int, zone: str, *, vague: bool) -> float | None:
    """The moment meant by `minutes` after midnight, epoch seconds.

    `vague` ("six thirty") takes the next of morning and evening. A time that has
    just gone by gives None: within six hours, or, where vague, within two.
    """
    if vague:
        half = minutes % (DAY_MIN // 2)
        moments = [_on_day(now_s, half + shift, zone, 0) for shift in (0, DAY_MIN // 2)]
        moments += [_on_day(now_s, half + shift, zone, 1) for shift in (0, DAY_MIN // 2)]
        if any(0 <= now_s - moment < PAST_VAGUE_S for moment in moments):
            return None
        return min(moment for moment in moments if moment > now_s)
    today = _on_day(now_s, minutes, zone, 0)
    if today > now_s:
        return today
    return None if now_s - today < PAST_S else _on_day(now_s, minutes, zone, 1)


def _on_day(now_s: float, minutes: int, zone: str, day: int) -> float:
    """That clock time on today's date in the zone, or `day` days later."""
    tz = ZoneInfo(zone)
    date = datetime.fromtimestamp(now_s, tz).date() + timedelta(days=day)
    local = datetime(date.year, date.month, date.day, minutes // 60, minutes % 60, tzinfo=tz)
    return local.timestamp()


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
