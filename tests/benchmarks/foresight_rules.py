"""The rules of thumb a cook would use instead. Each gives a point in time, or None.

Times in s since the bird went on, temperatures in F: rules are stated in these.
"""

from collections.abc import Sequence

import numpy as np

from tests.benchmarks.kitchen_sim_world import POUND

OFF_S = 600.0
START_F = 40.0
USUAL_POUNDS = {"chicken": 4.85, "hen": 1.4, "turkey": 11.5}
# The published indirect-grill column by class; on a spit, printed spit rules: 15 for
# chicken at 400 F, 11 for turkey at 350 F (tests/references/spit_cooks.csv).
MINUTES_PER_POUND = {"chicken": 20.0, "hen": 38.0, "turkey": 15.0}
SPIT_MINUTES_PER_POUND = {"chicken": 15.0, "hen": 28.0, "turkey": 11.0}

Reading = tuple[float, float]


def minutes_per_pound(kind: str, mass_kg: float | None, *, spit: bool) -> float:
    """Printed minutes a pound by class, and the saucing."""
    pounds = USUAL_POUNDS[kind] if mass_kg is None else mass_kg / POUND
    table = SPIT_MINUTES_PER_POUND if spit else MINUTES_PER_POUND
    return pounds * table[kind] * 60.0 + OFF_S


def last_two(readings: Sequence[Reading], mark_f: float, to_come_s: float) -> float | None:
    """A straight line through the last two readings (or from the cold start)."""
    known = [(0.0, START_F), *readings][-2:]
    (t0, f0), (t1, f1) = known
    if t1 - t0 < 60.0 or f1 <= f0:
        return None
    return max(t1, t1 + (mark_f - f1) * (t1 - t0) / (f1 - f0)) + to_come_s


def exponential(
    readings: Sequence[Reading], air_f: float, mark_f: float, to_come_s: float
) -> float | None:
    """Newton's law after a lag, fitted to all readings: grid over lag, least squares."""
    if not readings or air_f <= mark_f + 5.0:
        return None
    t = np.array([at for at, _ in readings])
    f = np.minimum(np.array([value for _, value in readings]), air_f - 1.0)
    log_left = np.log((air_f - f) / (air_f - START_F))
    best = (np.inf, 0.0, 0.0)
    for lag in np.linspace(0.0, 45.0 * 60.0, 16):
        x = np.maximum(t - lag, 0.0)
        if not (x > 0).any():
            continue
        rate = -float(x @ log_left) / float(x @ x)
        miss = float(np.square(air_f - (air_f - START_F) * np.exp(-rate * x) - f).sum())
        if rate > 0 and miss < best[0]:
            best = (miss, lag, rate)
    if best[2] <= 0:
        return None
    reach = best[1] + np.log((air_f - START_F) / (air_f - mark_f)) / best[2]
    return max(float(reach), float(t[-1])) + to_come_s
