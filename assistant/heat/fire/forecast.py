"""When the fire leaves its band, and whether anything is worth saying about it.

A particle filter over the kettle of `assistant.heat.fire.kettle`: every spoken grill
reading weighs the particles, and the survivors are run on to the end of dinner.
Deterministic: the same evidence always gives the same answer. SI throughout.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.heat.bird.evidence import Quantiles
from assistant.heat.fire import advice as fire_advice
from assistant.heat.fire import filter as fire_filter
from assistant.heat.fire.evidence import FireEvidence
from assistant.heat.fire.kettle import PRIOR, Floats
from assistant.heat.fire.suggest import Advice, suggest

LEARNED = {  # belongs to this kettle and its spit, not to one evening
    "fire_heat", "fire_loss", "fire_air", "fire_life", "fire_steel", "fire_leak", "fire_tail",
    "fire_birds",
}  # fmt: skip
OUT_FOR_S = 480.0  # a dip shorter than this (a lid off) is not leaving the band


@dataclass(frozen=True, slots=True)
class FireForecast:
    """`leaves`: when the grill leaves its band for good, None where it holds to the
    horizon. `settles`: when it is in its band, now if it is. `path`: (time, 0.1, 0.5, 0.9)
    of the grill's temperature, C. `pieces_per_hour`: briquettes burnt now. `suggestion`:
    what would keep it in its band, for the cook who looks; `advice`: what of it is worth
    saying."""

    leaves: Quantiles
    settles: Quantiles
    now_c: tuple[float, float, float]
    path: tuple[tuple[float, float, float, float], ...]
    pieces_per_hour: float
    suggestion: Advice | None
    advice: Advice | None


def fire_forecast(evidence: FireEvidence, now_s: float, until_s: float) -> FireForecast | None:
    """Forecast the fire from `now_s` to `until_s`; None where nothing is known of it.

    Times are seconds on the evidence's own axis; readings after `now_s` are ignored.
    """
    if evidence.lit_s is None and not evidence.fuel and not evidence.readings:
        return None
    dinner_s, until_s = until_s, min(max(until_s, now_s + 1800.0), now_s + 4 * 3600.0)
    past = fire_filter.estimate(evidence, now_s)
    times_s, temps_c = fire_filter.run_on(past, evidence, now_s, until_s + OUT_FOR_S)
    settles_s, leaves_s, _ = crossings(times_s, temps_c, evidence.band_c, until_s)
    spread = np.quantile(temps_c, (0.1, 0.5, 0.9), axis=1).T
    dinner_s = min(dinner_s, until_s)
    shown = suggest(past, evidence, now_s, dinner_s)
    advice = fire_advice.advise(past, evidence, now_s, dinner_s, shown)
    now_c = np.quantile(past.cloud.temperature_c, (0.1, 0.5, 0.9))
    return FireForecast(
        leaves=_quantiles(leaves_s),
        settles=_quantiles(settles_s),
        now_c=(float(now_c[0]), float(now_c[1]), float(now_c[2])),
        path=tuple(
            (float(t), float(q[0]), float(q[1]), float(q[2]))
            for t, q in zip(times_s, spread, strict=True)
            if t <= until_s
        ),
        pieces_per_hour=float(np.median(past.pieces_per_hour)),
        suggestion=advice or shown,
        advice=advice,
    )


def crossings(
    times_s: Floats, temps_c: Floats, band_c: tuple[float, float], until_s: float
) -> tuple[Floats, Floats, Floats]:
    """Return when each particle settles and leaves (inf: not by `until_s`), and
    whether it leaves by the cold side. `temps_c` is (times, n).

    A particle outside its band that never comes in has left already.
    """
    low_c, high_c = band_c
    inside = (temps_c >= low_c) & (temps_c <= high_c)
    step_s = float(times_s[1] - times_s[0])
    hold = max(1, round(OUT_FOR_S / step_s))
    stays_out = ~inside[: len(times_s) - hold + 1]
    for k in range(1, hold):
        stays_out &= ~inside[k : len(times_s) - hold + 1 + k]
    visible = times_s[: len(stays_out)] <= until_s
    entered = np.maximum.accumulate(inside[: len(stays_out)], axis=0)
    never_in = ~entered[visible][-1]
    out = stays_out & (entered | never_in) & visible[:, None]
    settles_s = _first(times_s, inside[: len(visible)] & visible[:, None])
    leaves_s = _first(times_s, out)
    at = np.minimum(np.argmax(out, axis=0), len(times_s) - 1)
    cold = temps_c[at, np.arange(temps_c.shape[1])] < low_c
    return settles_s, leaves_s, cold


def learned_from(evidence: FireEvidence, ended_s: float) -> tuple[tuple[str, float, float], ...]:
    """Return what a finished cook teaches: (name, shift of the log from the world
    prior, sd), ready for `Kitchen.shift`."""
    cloud = fire_filter.estimate(evidence, ended_s).cloud
    return tuple(
        (name, float(row.mean() - np.log(median)), float(max(row.std(), 0.25 * sd)))
        for (name, median, sd), row in zip(PRIOR, cloud.unknown, strict=True)
        if name in LEARNED
    )


def _first(times_s: Floats, true: NDArray[np.bool_]) -> Floats:
    found = true.any(axis=0)
    return np.where(found, times_s[np.argmax(true, axis=0)], np.inf)


def _quantiles(values_s: Floats) -> Quantiles:
    ordered = np.quantile(values_s, (0.1, 0.5, 0.9), method="inverted_cdf")
    q10, q50, q90 = (float(v) if np.isfinite(v) else None for v in ordered)
    return Quantiles(q10, q50, q90)
