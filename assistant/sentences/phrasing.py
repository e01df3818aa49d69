"""Pieces that sentences are made of, in print: temperatures, birds, times, spreads."""

from collections.abc import Iterable
from datetime import datetime
from zoneinfo import ZoneInfo

from assistant.cook.clocktimes import clock_text, date_text, days_ahead
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary.commands import Said
from assistant.heat.bird.evidence import Quantiles
from assistant.heat.degrees import in_scale

_PLACES = {2: "second", 3: "third", 4: "fourth", 5: "fifth", 6: "sixth", 7: "seventh"}
COARSE_MIN = 10  # from here a spread is told in fives


def degrees(value_f: float, state: Cook) -> str:
    """A recorded temperature in the kitchen's scale, without naming it: "130"."""
    value = in_scale(value_f, state.scale)
    return f"{round(value * 2) / 2:g}"


def said_degrees(said: Said, state: Cook) -> str:
    """A temperature as it was said; its scale is named where it is not the kitchen's."""
    return f"{said.number:g}" + ("" if said.scale == state.scale else f" {said.scale}")


def listed(items: Iterable[object], word: str = "and") -> str:
    """Joined as people do: "1, 2 and 3"."""
    *first, last = (str(item) for item in items)
    return f"{', '.join(first)} {word} {last}" if first else last


def birds(numbers: Iterable[int]) -> str:
    """ "bird 1", "birds 1 and 2"."""
    known = sorted(set(numbers))
    return f"bird{'s' if len(known) > 1 else ''} {listed(known)}"


def capital(text: str) -> str:
    """The text with a capital first letter."""
    return text[:1].upper() + text[1:]


def place(number: int, state: Cook) -> str:
    """Where a bird is on the spit: "motor end", "far end", "second from the motor"."""
    last = state.tonight
    if number == 1:
        return "motor end"
    if number >= last:
        return "far end"
    return "middle" if last == 3 else f"{_PLACES[number]} from the motor"


def placed(bird: Bird, state: Cook) -> str:
    """A bird with its place and sauce: "bird 1, motor end, apricot"."""
    sauce = "" if bird.sauce is None or bird.is_plain else f", {bird.sauce}"
    return f"bird {bird.number}, {place(bird.number, state)}{sauce}"


def span(seconds: float) -> str:
    """A length of time to the minute: "1 hour 20 minutes", "under a minute"."""
    minutes = round(max(0.0, seconds) / 60)
    hours, rest = divmod(minutes, 60)
    if minutes == 0:
        return "under a minute"
    parts = [f"{hours} hour{'s' if hours > 1 else ''}"] if hours else []
    parts += [f"{rest} minute{'s' if rest > 1 else ''}"] if rest else []
    return " ".join(parts)


def minutes_text(minutes: float) -> str:
    """A length of time as it was said: "10 minutes", "2.5 minutes"."""
    if minutes == int(minutes):
        return span(60 * minutes) if minutes else "0 minutes"
    return f"{minutes:g} minutes"


def about(times: Quantiles, zone: str) -> str:
    """A forecast in plain words: "about 7:10, give or take 8 minutes"."""
    if times.q50 is None:
        return "not in sight as the fire is"
    if times.q90 is None or times.q10 is None:
        return f"about {clock_text(times.q50, zone)}, maybe much later"
    spread = max(times.q90 - times.q50, times.q50 - times.q10) / 60
    step = 5 if spread >= COARSE_MIN else 1
    minutes = max(1, round(spread / step)) * step
    near_s = round(times.q50 / (60 * step)) * 60 * step
    some = "a minute" if minutes == 1 else f"{minutes} minutes"
    return f"about {clock_text(near_s, zone)}, give or take {some}"


def dinner(serve_s: float, zone: str, now_s: float | None = None) -> str:
    """A serving time with its part of the day: "6:30 in the evening", and, where that is
    not today, with the day: "6:30 in the evening tomorrow, Saturday"."""
    hour = datetime.fromtimestamp(serve_s, ZoneInfo(zone)).hour
    part = (
        "at night"
        if hour < 5 or hour >= 22
        else "in the morning"
        if hour < 12
        else ("in the afternoon" if hour < 17 else "in the evening")
    )
    text = f"{clock_text(serve_s, zone)} {part}"
    ahead = 0 if now_s is None else days_ahead(serve_s, now_s, zone)
    if ahead <= 0:
        return text
    day = date_text(serve_s, zone)
    if ahead == 1:
        return f"{text} tomorrow, {day.split()[0]}"
    return f"{text} on {day.split()[0] if ahead < 7 else day}"
