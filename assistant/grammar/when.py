"""A serving time as people type it, by the grammar it is spoken in; ISO 8601 as well."""

import re
from datetime import datetime
from zoneinfo import ZoneInfo

from assistant.cook.clocktimes import WEEKDAYS, next_time
from assistant.cook.vocabulary.commands import ServeAt
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

LONGEST_DAYS = 60  # a dinner later than this is a slip of the pen
_DAYS = ("today", "tomorrow", *WEEKDAYS)
_SHORT = {day[:3]: day for day in WEEKDAYS}
_SHORT |= {"tues": "tuesday", "thur": "thursday", "thurs": "thursday"}
_ISO = re.compile(r"\d{4}-\d\d-\d\d(?:[T ].*)?")
_CLOCK = re.compile(r"\b(\d{1,2})[.h](\d\d)(?!\d)")
_LEADING = re.compile(
    rf"(?:on )?(?P<day>{'|'.join(_DAYS)})\b(?: (?P<part>morning|afternoon|evening|night))?"
    r",?(?: at)? (?P<clock>.+)"
)
HOW = 'write it like 19:00, "tomorrow 18:30", "Saturday 6 pm" or 2026-11-28 18:30'


def serving_time(text: str, now_s: float, zone: str) -> float:
    """Return the serving time `text` means, epoch seconds.

    Raises ValueError, one line with what to write, where it is none, or has gone by.
    """
    plain = " ".join(text.split())
    moment = _iso(plain, zone) if _ISO.fullmatch(plain) else _said(plain, text, now_s, zone)
    if moment is None or moment <= now_s:
        raise ValueError(f"{text} has gone by; give a time still to come")
    if moment - now_s > LONGEST_DAYS * 86400.0:
        raise ValueError(f"{text} is more than {LONGEST_DAYS} days away; plan it nearer to the day")
    return moment


def _iso(text: str, zone: str) -> float:
    try:
        local = datetime.fromisoformat(text)
        moment = (local if local.tzinfo else local.replace(tzinfo=ZoneInfo(zone))).timestamp()
    except (ValueError, OverflowError) as error:
        raise ValueError(f"{text!r} is not a date and time; {HOW}") from error
    if len(text) <= len("2026-11-28"):
        raise ValueError(f"{text!r} lacks the time of day; {HOW}")
    return moment


def _said(plain: str, text: str, now_s: float, zone: str) -> float | None:
    words = [_SHORT.get(word.strip(",."), word) for word in plain.lower().split()]
    words = ["today" if word == "tonight" and not at else word for at, word in enumerate(words)]
    clock = _CLOCK.sub(r"\1:\2", " ".join(words))
    found = _LEADING.fullmatch(clock)
    if found is None:
        sentence = f"dinner at {clock.removeprefix('at ')}"
    else:
        part = f" {found['part']}" if found["part"] else ""
        sentence = f"dinner {found['day']}{part} at {found['clock']}"
    try:
        command = parse(sentence, Names())
    except NotUnderstood as error:
        raise ValueError(f"{text!r} is not a time; {HOW}") from error
    assert isinstance(command, ServeAt)
    return next_time(now_s, command.time, zone, vague=command.vague, day=command.day)
