"""Priors from simulated cooks, for readings that are expected and for surprises.

Three birds go on a steady grill and nobody reads them. At some minute the forecast
expects a given temperature of each; a reading is then told to the ears at the minute when
the cook expects it, or when it expects a reading `surprise_f` higher or lower.
"""

from collections.abc import Callable
from functools import cache

from assistant.cook.rules.forecasts import celsius
from assistant.cook.rules.plausible import bird_density
from assistant.cook.rules.prior import log_prior
from assistant.cook.state import Cook
from assistant.cook.vocabulary.commands import BirdReading, Command
from tests.cook.build import START_S, evening

MINUTES = tuple(range(6, 150, 6))
_LIKELY_F = tuple(range(40, 211, 4))


@cache
def cooking() -> Cook:
    """Three birds just gone on over a steady fire."""
    pounds = {1: "five pounds", 2: "six pounds", 3: "seven pounds"}
    names = {1: "one", 2: "two", 3: "three"}
    weighed = [(0.0, f"bird {names[n]} weighs {pounds[n]}") for n in pounds]
    said = [(0.0, "fire lit"), *weighed, (20.0, "grill is three seventy"), (20.0, "birds on")]
    return evening(*said, birds=3).state


@cache
def expected_f(bird: int, minute: int) -> float:
    """The temperature a reading of the bird would most likely show then."""
    density = bird_density(cooking(), bird, _at_s(minute))
    return float(max(_LIKELY_F, key=lambda f: density.log_pdf(celsius(float(f)))))


def prior_when(reading: BirdReading, surprise_f: float) -> Callable[[Command], float]:
    """The cook's prior at the minute when it expects `reading` less `surprise_f`."""
    wanted = reading.temperature - surprise_f
    minute = min(MINUTES, key=lambda m: abs(expected_f(reading.bird, m) - wanted))
    return lambda command: log_prior(cooking(), command, _at_s(minute))


def _at_s(minute: int) -> float:
    return START_S + 60.0 * (20 + minute)
