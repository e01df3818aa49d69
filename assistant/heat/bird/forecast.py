"""When each bird reaches its marks, and how sure that is.

`forecast` is pure and deterministic: nothing in it is drawn at random. Results are
cached by their arguments, which are frozen.
"""

from dataclasses import replace
from functools import lru_cache

import numpy as np

from assistant.heat.bird import look
from assistant.heat.bird.air import assume
from assistant.heat.bird.carry_over import BOILS_C
from assistant.heat.bird.density import ReadingDensity, air_density, core_density
from assistant.heat.bird.ensemble import Ensemble, core_at, ensemble, weighted_quantiles
from assistant.heat.bird.evidence import (
    BirdEvidence,
    BirdForecast,
    Evidence,
    Forecast,
    Quantiles,
    Span,
)  # fmt: skip
from assistant.heat.bird.explain import spread_from
from assistant.heat.bird.properties import Array

__all__ = ["ReadingDensity", "air_density", "core_density", "forecast", "what_if"]

LEVELS = (0.1, 0.5, 0.9)


@lru_cache(maxsize=64)
def forecast(evidence: Evidence, now_s: float) -> Forecast:
    """Forecast every bird of the evidence as known at `now_s`."""
    if not evidence.birds:
        return Forecast((), None)
    cloud = ensemble(evidence, now_s)
    birds = tuple(_bird_forecast(cloud, index) for index in range(len(evidence.birds)))
    looks = look.looks_of(cloud, birds)
    return Forecast(birds, looks[0] if looks else None, looks[1:])


def _quantiles(values: Array, weight: Array) -> Quantiles:
    found = weighted_quantiles(values, weight, LEVELS)
    return Quantiles(*(None if np.isnan(one) else one for one in found))


def _bird_forecast(cloud: Ensemble, index: int) -> BirdForecast:
    bird, weight = cloud.task.birds[index], cloud.weight[index]
    core = np.minimum(core_at(cloud, index, cloud.task.now_s), BOILS_C)  # meat holds water
    low, middle, high = weighted_quantiles(core, weight, LEVELS)
    return BirdForecast(
        number=bird.number,
        sauce=_quantiles(cloud.sauce_s[index], weight),
        done=_quantiles(cloud.done_s[index], weight),
        core_now_c=(low, middle, high),
        at_sauce=float(weight[core >= bird.sauce_mark_c].sum()),
        at_done=float(weight[core >= bird.done_mark_c].sum()),
        spread_from=spread_from(cloud, index),
        checked=bird.sites,
    )


def what_if(
    evidence: Evidence, now_s: float, *, air_c: float | None = None, off_s: float | None = None
) -> Forecast:
    """The forecast if the grill ran at `air_c` from now on, or the birds that are on
    came off now for `off_s` seconds."""
    if air_c is not None:
        evidence = assume(evidence, now_s, air_c)
    if off_s is not None:
        evidence = replace(
            evidence, birds=tuple(_taken_off(bird, now_s, off_s) for bird in evidence.birds)
        )
    return forecast(evidence, now_s)


def _taken_off(bird: BirdEvidence, now_s: float, off_s: float) -> BirdEvidence:
    if not bird.on_heat or bird.on_heat[-1].end_s is not None:
        return bird
    spans = (*bird.on_heat[:-1], Span(bird.on_heat[-1].start_s, now_s), Span(now_s + off_s))
    return replace(bird, on_heat=spans)
