"""The fire advice of before, kept as a baseline: a dose and a vent opening at every reading."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from assistant.heat.fire.evidence import FireEvidence
from assistant.heat.fire.filter import Past, ahead
from assistant.heat.fire.kettle import Batch, Floats

Direction = Literal["open", "close"]

DOSES = np.array([4.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 24.0, 30.0])
CATCH_S = 900.0  # ten to fifteen minutes until fresh briquettes burn: be early
WORTH = 0.3  # probability of leaving cold from which adding is advised
SURE = 0.35  # the path that has to hold: this quantile of the cloud
TOO_HOT_C = 8.0  # above the band, in the median, is overdoing it
HELPS_S = 600.0  # from caught to warm steel
LOOK_AHEAD_S = 1200.0
EDGE_C = 3.0
STEADY_S = 300.0  # advice is not turned round within this
SETTLE_S = 480.0  # after a vent was moved, let it work
OPENINGS = (0.0, 0.25, 1 / 3, 0.5, 2 / 3, 0.75, 1.0)


@dataclass(frozen=True, slots=True)
class FuelAdvice:
    """Add `count` briquettes at `at_s`. `holds_until_s`: None if it then holds to
    the end, else when more is needed."""

    count: int
    at_s: float
    holds_until_s: float | None


@dataclass(frozen=True, slots=True)
class VentAdvice:
    """Move the bottom vent to `opening`; `by` is the change as a fraction."""

    direction: Direction
    opening: float
    by: float


def fuel(
    past: Past, known: FireEvidence, turn: VentAdvice | None, now_s: float, until_s: float
) -> FuelAdvice | None:
    """Return the smallest dose that holds the fire to `until_s`, and when it must go on.

    None while the fire is likely to hold by itself, the vents opened if `turn` says so.
    It is put on early enough to catch before the earlier quarter of the forecast
    leaves the band.
    """
    if now_s + CATCH_S + HELPS_S >= until_s:
        return None  # it would catch too late for dinner
    low_c, high_c = known.band_c
    opens = turn is not None and turn.direction == "open"
    bottom = np.array([turn.opening if turn is not None and opens else vents_now(known)[0]])
    times, temps = ahead(past, known, now_s, until_s, bottoms=bottom)
    leaves_s = first_cold(times, temps[:, 0, :], low_c)
    if np.mean(np.isfinite(leaves_s)) < WORTH:
        return None
    early_s = float(np.quantile(leaves_s, 0.25, method="inverted_cdf"))
    at_s = max(now_s, early_s - CATCH_S)
    if at_s + CATCH_S + HELPS_S >= until_s:
        return None
    counts, bottoms = DOSES, np.repeat(bottom, DOSES.size)
    times, temps = ahead(
        past, known, now_s, until_s, add=Batch(at_s, 1.0), counts=counts, bottoms=bottoms
    )
    helped = times >= at_s + CATCH_S + HELPS_S
    cool = np.quantile(temps[helped], SURE, axis=2)
    hot = np.median(temps[helped], axis=2).max(axis=0) > high_c + TOO_HOT_C
    holds = (cool >= low_c).all(axis=0) & ~hot
    if holds.any():
        return FuelAdvice(int(DOSES[np.argmax(holds)]), at_s, None)
    allowed = np.flatnonzero(~hot)
    best = int(allowed[-1]) if allowed.size else 0
    below = np.flatnonzero(cool[:, best] < low_c)
    again_s = float(times[helped][below[0]]) if below.size else None
    return FuelAdvice(int(DOSES[best]), at_s, again_s)


def first_cold(times_s: Floats, temps_c: Floats, low_c: float) -> Floats:
    """Return when each particle is below `low_c` for good or a while; inf: never.

    A particle that is still coming up counts from when it has been in the band.
    """
    below = temps_c < low_c
    entered = np.maximum.accumulate(~below, axis=0)
    out = below[:-2] & below[1:-1] & below[2:]
    out &= entered[:-2] | ~entered[-1]
    found = out.any(axis=0)
    return np.where(found, times_s[np.argmax(out, axis=0)], np.inf)


def vents_now(known: FireEvidence) -> tuple[float, float]:
    """Return the open fractions, bottom and top, as last told."""
    last = known.vents[-1] if known.vents else None
    if last is None or last.bottom is None or last.top is None:
        return 0.5, 0.5
    return last.bottom, last.top


def vents(past: Past, known: FireEvidence, now_s: float) -> VentAdvice | None:
    """Return which way to move the bottom vent and how far; None while all is well.

    Judged by where the grill will be in twenty minutes, not by where it is. Never
    turned round within five minutes of the last advice or eight of the last move.
    """
    if known.vents and 0 <= now_s - known.vents[-1].at_s < SETTLE_S:
        return None
    bottom, _ = vents_now(known)
    bottoms = np.array([bottom, *OPENINGS])
    _, temps = ahead(past, known, now_s, now_s + LOOK_AHEAD_S, bottoms=bottoms)
    ends_c = np.median(temps[-1], axis=1)
    low_c, high_c = known.band_c
    if low_c + EDGE_C <= ends_c[0] <= high_c - EDGE_C:
        return None
    middle_c = (low_c + high_c) / 2
    opening = OPENINGS[int(np.argmin(np.abs(ends_c[1:] - middle_c)))]
    by = opening - bottom
    direction: Direction = "open" if ends_c[0] < low_c + EDGE_C else "close"
    if (np.median(past.cloud.temperature_c) > middle_c) != (direction == "close"):
        return None  # nobody shuts down a grill that is at its cold edge, or opens a hot one
    if abs(by) < 0.1 or (by > 0) != (direction == "open"):
        return None  # the vent is already where it helps most
    if known.advised and known.advised[1] != direction and now_s - known.advised[0] < STEADY_S:
        return None
    return VentAdvice(direction, opening, abs(by))
