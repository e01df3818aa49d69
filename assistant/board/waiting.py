"""What each bird is waiting for, and what the fire does."""

from dataclasses import dataclass
from typing import Literal

from assistant.board.phrases import (
    clock,
    duration,
    short_window,
    temperature,
    window,
)
from assistant.board.view import BoardView
from assistant.cook.rules.due_birds import sauce_due_s
from assistant.cook.rules.finish import rested_s
from assistant.cook.rules.waiting import is_at_sauce_mark, needs_no_sauce, next_mark
from assistant.cook.state import Bird
from assistant.heat.bird.evidence import Quantiles

SOON_S = 60.0  # what is called within this is due
Weight = Literal["calm", "soon", "now"]


@dataclass(frozen=True, slots=True)
class Wait:
    """`what` the bird waits for in words; `times` when, if it can be forecast and is
    still to come; `due` when the wait is over and the cook's hands are needed."""

    what: str
    times: Quantiles | None = None
    due: bool = False


def wait_of(bird: Bird, view: BoardView) -> Wait:
    """What `bird` waits for at the moment of `view`."""
    if not bird.has_been_on:
        return Wait("to go on")
    if bird.is_pulled:
        rests_s = rested_s(bird)
        till = f" till {clock(rests_s, view.cook.zone)}"
        return Wait(f"resting{till}" if rests_s > view.now_s else "rested")
    if bird.is_done:
        return Wait("to come off", due=True)
    if bird.open_doubts and (bird.surely_f() or 0.0) >= bird.done_mark_f:
        return Wait("to be read again", due=True)
    if not bird.is_on:
        return Wait("to go back on", due=True)
    forecast = view.forecast_of(bird.number)
    if not needs_no_sauce(bird) and is_at_sauce_mark(bird):
        called_s = sauce_due_s(view.cook, bird.number)
        if called_s is None or called_s - view.now_s < SOON_S:
            return Wait("its sauce", due=True)
        return Wait(f"its sauce, held till about {clock(called_s, view.cook.zone)}")
    if next_mark(bird) == "done":
        return _for_mark("done mark", forecast.done if forecast else None, view.now_s)
    return _for_mark("sauce mark", forecast.sauce if forecast else None, view.now_s)


def _for_mark(mark: str, times: Quantiles | None, now_s: float) -> Wait:
    """A forecast that has passed is not shown: only a reading can tell then."""
    if times is not None and times.q50 is not None and times.q50 <= now_s:
        return Wait(f"a reading: {mark} likely by now")
    return Wait(mark, times)


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
    """The fire in words: last reading with age, band and where in it, what comes, what
    may help."""

    reading: str
    band: str
    verdict: str
    outlook: str
    weight: Weight
    help: str = ""


def fire_line(view: BoardView) -> FireLine:
    """The state of the grill at the moment of `view`."""
    fire, scale, zone = view.cook.fire, view.cook.scale, view.cook.zone
    low, high = temperature(fire.band_low_f, scale), temperature(fire.band_high_f, scale)
    band = f"band {low.split()[0]} to {high}"
    read = fire.readings[-1].temperature_f if fire.readings else None
    inside = read is not None and fire.band_low_f <= read <= fire.band_high_f
    outlook = _outlook(view.fire_leaves, zone, view.now_s) if inside else ""
    if fire.lid_is_off:
        off_for = duration(view.now_s - fire.lid_open[-1].start_s)
        return FireLine(_grill(view), band, f"lid off {off_for}", outlook, "soon")
    if not fire.readings:
        verdict = "not lit" if fire.lit_s is None else "lit"
        return FireLine("no grill reading yet", band, verdict, outlook, "calm")
    value_f = fire.readings[-1].temperature_f
    if value_f < fire.band_low_f:
        short = f"{(fire.band_low_f - value_f) / _degree(scale):.0f} under the band"
        return FireLine(_grill(view), band, short, outlook, "soon", view.fire_help)
    if value_f > fire.band_high_f:
        over = f"{(value_f - fire.band_high_f) / _degree(scale):.0f} over the band"
        return FireLine(_grill(view), band, over, outlook, "soon", view.fire_help)
    return FireLine(_grill(view), band, "in the band", outlook, "calm", view.fire_help)


def _degree(scale: str) -> float:
    return 1.8 if scale == "C" else 1.0


def _grill(view: BoardView) -> str:
    if not view.cook.fire.readings:
        return "no grill reading yet"
    last = view.cook.fire.readings[-1]
    value = temperature(last.temperature_f, view.cook.scale)
    seconds = view.now_s - last.at_s
    return f"{value}, {'just now' if seconds < 60 else duration(seconds) + ' ago'}"


def _outlook(leaves: Quantiles | None, zone: str, now_s: float) -> str:
    """When the grill leaves its band; nothing once that should have been."""
    if leaves is None or leaves.q50 is None or leaves.q50 <= now_s:
        return ""
    if leaves.q10 is not None and leaves.q10 <= now_s:
        leaves = Quantiles(now_s, leaves.q50, leaves.q90)
    return f"leaves the band {window(leaves, zone)}"
