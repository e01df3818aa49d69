"""What each bird is waiting for, what the fire does, and the one thing that matters now."""

from dataclasses import dataclass
from typing import Literal

from assistant.board.phrases import (
    clean,
    clock,
    duration,
    place_of,
    short_window,
    temperature,
    window,
)
from assistant.board.view import BoardView
from assistant.cook.commands import BirdReading, GrillReading
from assistant.cook.state import Bird
from assistant.heat.bird.evidence import Quantiles

Weight = Literal["calm", "soon", "now"]
LID_PATIENCE_S = 45.0  # an open lid shorter than this is an ordinary look


@dataclass(frozen=True, slots=True)
class Wait:
    """`what` the bird waits for in words; `times` when, if it can be forecast;
    `due` when the wait is over and the cook's hands are needed."""

    what: str
    times: Quantiles | None = None
    due: bool = False


def wait_of(bird: Bird, view: BoardView) -> Wait:
    """What `bird` waits for at the moment of `view`."""
    if not bird.has_been_on:
        return Wait("to go on")
    if bird.is_pulled:
        return Wait("resting")
    if bird.is_done:
        return Wait("to come off", due=True)
    if not bird.is_on:
        return Wait("to go back on", due=True)
    forecast = view.forecast_of(bird.number)
    if bird.is_plain or bird.sauced_s:
        return Wait("done mark", forecast.done if forecast else None)
    coldest_f = bird.coldest_f()
    if coldest_f is not None and coldest_f >= bird.sauce_mark_f:
        return Wait("its sauce", due=True)
    return Wait("sauce mark", forecast.sauce if forecast else None)


def wait_text(wait: Wait, zone: str) -> str:
    """A wait in one phrase: "sauce mark about 6:31 (6:24 to 6:41)", "to come off, now"."""
    if wait.due:
        return f"{wait.what}, now"
    return f"{wait.what} {window(wait.times, zone)}" if wait.times else wait.what


def wait_texts(wait: Wait, zone: str) -> tuple[str, ...]:
    """A wait worded ever shorter, longest first, for rows of little room."""
    longest = wait_text(wait, zone)
    if wait.due or wait.times is None:
        return (longest,)
    name = wait.what.removesuffix(" mark")
    short = f"{name} {short_window(wait.times, zone)}"
    if wait.times.q50 is None:
        return (longest, short)
    shortest = f"{name} ~{clock(wait.times.q50, zone)}"
    return (longest, f"{wait.what} {short_window(wait.times, zone)}", short, shortest)


@dataclass(frozen=True, slots=True)
class FireLine:
    """The fire in words: last reading with age, band and where in it, what comes."""

    reading: str
    band: str
    verdict: str
    outlook: str
    weight: Weight


def fire_line(view: BoardView) -> FireLine:
    """The state of the grill at the moment of `view`."""
    fire, scale, zone = view.cook.fire, view.cook.scale, view.cook.zone
    low, high = temperature(fire.band_low_f, scale), temperature(fire.band_high_f, scale)
    band = f"band {low.split()[0]} to {high}"
    outlook = _outlook(view.fire_leaves, zone)
    if fire.lid_is_off:
        off_for = duration(view.now_s - fire.lid_open[-1].start_s)
        return FireLine(_grill(view), band, f"lid off {off_for}", outlook, "soon")
    if not fire.readings:
        verdict = "not lit" if fire.lit_s is None else "lit"
        return FireLine("no grill reading yet", band, verdict, outlook, "calm")
    value_f = fire.readings[-1].temperature_f
    if value_f < fire.band_low_f:
        short = f"{(fire.band_low_f - value_f) / _degree(scale):.0f} under the band"
        return FireLine(_grill(view), band, short, outlook, "soon")
    if value_f > fire.band_high_f:
        over = f"{(value_f - fire.band_high_f) / _degree(scale):.0f} over the band"
        return FireLine(_grill(view), band, over, outlook, "soon")
    return FireLine(_grill(view), band, "in the band", outlook, "calm")


def _degree(scale: str) -> float:
    return 1.8 if scale == "C" else 1.0


def _grill(view: BoardView) -> str:
    if not view.cook.fire.readings:
        return "no grill reading yet"
    last = view.cook.fire.readings[-1]
    value = temperature(last.temperature_f, view.cook.scale)
    seconds = view.now_s - last.at_s
    return f"{value}, {'just now' if seconds < 60 else duration(seconds) + ' ago'}"


def _outlook(leaves: Quantiles | None, zone: str) -> str:
    if leaves is None or leaves.q50 is None:
        return ""
    return f"leaves the band {window(leaves, zone)}"


@dataclass(frozen=True, slots=True)
class Headline:
    """The one thing that matters now: a `label`, and a `figure` short enough to be
    drawn large (capitals, digits, and ":-?. only)."""

    label: str
    figure: str
    weight: Weight


def headline(view: BoardView) -> Headline:
    """Chosen in the order of what cannot wait: an open question, a due prompt, a lid
    left off, the next thing to come."""
    cook = view.cook
    if view.question:
        return Headline(clean(view.question), _choices(view), "now")
    if cook.ended_s is not None:
        return Headline("The cook has ended. Chill what is left in time.", "DINNER", "calm")
    due = [each for each in view.coming() if each.at_s <= view.now_s]
    if due and due[0].urgency == "now":
        return Headline(clean(due[0].text), "NOW", "now")
    if cook.fire.lid_is_off:
        off_s = view.now_s - cook.fire.lid_open[-1].start_s
        if off_s >= LID_PATIENCE_S:
            return Headline("The lid is off", _stopwatch(off_s), "soon")
    if due:
        return Headline(clean(due[0].text), "NOW", "soon")
    return _next_headline(view)


def _choices(view: BoardView) -> str:
    """What an open question offers, "180 OR 118?", where it is about two numbers."""
    options = view.cook.pending.options if view.cook.pending else ()
    values = [
        f"{one.said.number:g}" for one in options if isinstance(one, BirdReading | GrillReading)
    ]
    if len(values) == len(options) == 2 and values[0] != values[1]:
        return f"{values[0]} OR {values[1]}?"
    return "ANSWER?"


def _stopwatch(seconds: float) -> str:
    return f"{int(seconds) // 60}:{int(seconds) % 60:02d}"


def _next_headline(view: BoardView) -> Headline:
    ahead = view.coming()
    if ahead:
        left_s = ahead[0].at_s - view.now_s
        label = f"{clean(ahead[0].text).rstrip('.')}, at {clock(ahead[0].at_s, view.cook.zone)}"
        return Headline(label, _left(left_s), "soon" if left_s <= 180 else "calm")
    marks = [
        (wait.times.q50, bird, wait.what)
        for bird in view.cook.birds
        if (wait := wait_of(bird, view)).times is not None
        and wait.times is not None
        and wait.times.q50 is not None
    ]
    if marks:
        at_s, bird, what = min(marks, key=lambda each: (each[0], each[1].number))
        label = f"Bird {bird.number}, {place_of(bird, view)}: {what}"
        return Headline(label, _left(at_s - view.now_s), "calm")
    if view.cook.serve_s is not None and view.cook.serve_s > view.now_s:
        label = f"until dinner at {clock(view.cook.serve_s, view.cook.zone)}"
        return Headline(label, _left(view.cook.serve_s - view.now_s), "calm")
    return Headline("Say what happens: weights, sauces, birds on, readings", "READY", "calm")


def _left(seconds: float) -> str:
    """Time to go, coarse enough to be read in a glance: "12 MIN", "1:05 H", "NOW"."""
    minutes = round(seconds / 60)
    if minutes < 1:
        return "NOW"
    return f"{minutes} MIN" if minutes < 60 else f"{minutes // 60}:{minutes % 60:02d} H"
