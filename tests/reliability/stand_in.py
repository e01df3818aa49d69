"""Forecasts that cost nothing, for harnesses that are not about forecasts.

Straight lines through the last reading. The real ones take most of a simulated
evening's time; the harness also runs some evenings with them.
"""

import contextlib
from collections.abc import Iterator
from functools import partial
from unittest import mock

from assistant.cook.planning.plan import plan
from assistant.cook.rules import due_dinner as dinner
from assistant.cook.rules import forecasts
from assistant.heat.bird.density import ReadingDensity
from assistant.heat.bird.evidence import (
    BirdEvidence,
    BirdForecast,
    Evidence,
    Forecast,
    Look,
    Quantiles,
)
from assistant.heat.bird.roast_time import RoastTime

RATE_C_PER_S = 0.012
SPREAD = (0.8, 1.0, 1.25)


def forecast(evidence: Evidence, now_s: float) -> Forecast:
    """Every bird warms at one rate."""
    birds = tuple(_bird(bird, now_s) for bird in evidence.birds)
    on = [bird for bird in evidence.birds if bird.on_heat]
    look = None
    if on:
        longest = min(on, key=lambda bird: len(bird.readings))
        last_s = longest.readings[-1].at_s if longest.readings else now_s
        look = Look(longest.number, last_s + 600.0, "spread")
    return Forecast(birds, look)


def _bird(bird: BirdEvidence, now_s: float) -> BirdForecast:
    core_c = _core_c(bird, now_s)
    marks = (bird.sauce_mark_c, bird.done_mark_c)
    sauce, done = (
        Quantiles(*(now_s + max(mark_c - core_c, 0.0) / RATE_C_PER_S * one for one in SPREAD))
        for mark_c in marks
    )
    near = (core_c - 2.0, core_c, core_c + 2.0)
    return BirdForecast(
        bird.number, sauce, done, near, float(core_c >= marks[0]), float(core_c >= marks[1]),
        (("grill", 0.6), ("size", 0.4)),
    )  # fmt: skip


def _core_c(bird: BirdEvidence, at_s: float) -> float:
    if bird.readings:
        last = bird.readings[-1]
        return last.temperature_c + RATE_C_PER_S * (at_s - last.at_s)
    return 5.0 + RATE_C_PER_S * max(at_s - bird.on_heat[0].start_s, 0.0) if bird.on_heat else 5.0


def core_density(evidence: Evidence, number: int, at_s: float) -> ReadingDensity:
    """A reading lies about the line."""
    bird = next((one for one in evidence.birds if one.number == number), None)
    return ReadingDensity(_core_c(bird, at_s) if bird else 40.0, 12.0)


def air_density(evidence: Evidence, _: float) -> ReadingDensity:
    """A grill reading lies about the last one."""
    return ReadingDensity(evidence.grill[-1].temperature_c if evidence.grill else 180.0, 30.0)


def _what_if(evidence: Evidence, now_s: float, **_: object) -> Forecast:
    return forecast(evidence, now_s)


def _duration(
    mass_kg: float | None, *_: object, marks_c: tuple[float, float] | None = None, **__: object
) -> RoastTime:
    marks = marks_c if marks_c is not None else (54.4, 73.9)
    slow = 0.7 + 0.15 * (mass_kg if mass_kg is not None else 2.0)
    sauce, done = (
        Quantiles(*((mark - 5.0) / RATE_C_PER_S * slow * one for one in SPREAD)) for mark in marks
    )
    return RoastTime(sauce, done)


@contextlib.contextmanager
def cheap_forecasts() -> Iterator[None]:
    """Within this every forecast is the cheap one."""
    places = {
        "assistant.cook.rules.forecasts.forecast": forecast,
        "assistant.cook.rules.forecasts.fire_forecast": lambda *_: None,
        "assistant.cook.rules.plausible.core_density": core_density,
        "assistant.cook.rules.plausible.air_density": air_density,
        "assistant.cook.rules.questions.what_if": _what_if,
        "assistant.cook.rules.due_dinner.plan": partial(plan, roast=_duration),
    }
    with contextlib.ExitStack() as stack:
        for place, cheap in places.items():
            stack.enter_context(mock.patch(place, cheap))
        _forget()
        yield
    _forget()


def _forget() -> None:
    for cached in (forecasts._forecast, forecasts._fire, dinner._plan):
        cached.cache_clear()
