"""Short printed phrases that every display shares: times, ages, temperatures, places."""

import unicodedata

from assistant.board.view import BoardView
from assistant.cook.clocktimes import clock_text as clock
from assistant.cook.state import Bird, Reading
from assistant.heat.bird.evidence import Quantiles
from assistant.heat.degrees import in_scale
from assistant.system.console import UNSHOWN

__all__ = [
    "age", "clean", "clock", "duration", "on_spit", "place", "place_of", "reading", "short_window",
    "temperature", "window",
]  # fmt: skip

MINUTE_S = 60.0


def clean(text: str) -> str:
    """`text` on one line without anything a terminal or reader could act on."""
    return "".join(
        " " if unicodedata.category(letter) in UNSHOWN else letter for letter in text
    ).strip()


def duration(seconds: float) -> str:
    """A span as "45 s", "12 min" or "1 h 05"."""
    seconds = max(0.0, seconds)
    if seconds < MINUTE_S:
        return f"{seconds:.0f} s"
    minutes = int(seconds // MINUTE_S)
    return f"{minutes} min" if minutes < 60 else f"{minutes // 60} h {minutes % 60:02d}"


def age(at_s: float, now_s: float) -> str:
    """How long ago, "just now" inside the first minute."""
    return "just now" if now_s - at_s < MINUTE_S else f"{duration(now_s - at_s)} ago"


def temperature(value_f: float, scale: str) -> str:
    """A temperature in the cook's scale, rounded to whole degrees: "128 F"."""
    value = in_scale(value_f, scale)
    return f"{value:.0f} {scale}"


def on_spit(bird: Bird, now_s: float) -> str:
    """How long a bird has been over the fire, times off left out: "84 min on"; "" before."""
    spans = [(one.start_s, now_s if one.end_s is None else one.end_s) for one in bird.on_heat]
    seconds = sum(max(0.0, end_s - start_s) for start_s, end_s in spans)
    return f"{seconds / MINUTE_S:.0f} min on" if spans else ""


def place(number: int, birds: int) -> str:
    """Where a bird stands on the spit: "motor end", "middle", "far end", "3rd from motor"."""
    if number == 1:
        return "motor end"
    if number == birds:
        return "far end"
    if birds == 3:
        return "middle"
    suffix = {2: "nd", 3: "rd"}.get(number, "th")
    return f"{number}{suffix} from motor"


def place_of(bird: Bird, view: BoardView) -> str:
    """The place of `bird` among tonight's."""
    return place(bird.number, max(bird.number, view.cook.tonight))


def reading(last: Reading, view: BoardView) -> str:
    """A reading with its spot and age: "128 F breast, 4 min ago"."""
    spot = f" {last.spot}" if last.spot else ""
    value = temperature(last.temperature_f, view.cook.scale)
    return f"{value}{spot}, {age(last.at_s, view.now_s)}"


def window(times: Quantiles, zone: str) -> str:
    """A forecast with its spread: "about 6:31 (6:24 to 6:41)"."""
    if times.q50 is None:
        early = times.q10
        return "not in sight" if early is None else f"not before {clock(early, zone)}"
    low = clock(times.q10, zone) if times.q10 is not None else "?"
    high = clock(times.q90, zone) if times.q90 is not None else "open end"
    return f"about {clock(times.q50, zone)} ({low} to {high})"


def short_window(times: Quantiles, zone: str) -> str:
    """The same in fewer cells: "6:31 (6:24-6:41)"."""
    if times.q50 is None:
        return window(times, zone)
    low = clock(times.q10, zone) if times.q10 is not None else "?"
    high = clock(times.q90, zone) if times.q90 is not None else "?"
    return f"{clock(times.q50, zone)} ({low}-{high})"
