"""How much heat a core has had, against the public table. Informational only.

The table is for plants that control humidity; a backyard grill does not. It never
calls a bird done below its done mark, and never says that food is safe.
"""

import math
from collections.abc import Sequence
from functools import lru_cache

import numpy as np

from assistant.heat.bird.lethality_table import SECONDS_BY_DEG_F
from assistant.heat.bird.properties import Array

TABLE_LOG10 = 7.0
FATTEST_PCT = 12  # the column for fat unknown or above 12 % (guideline, page 39)
COLDEST_F = 136.0  # below the table nothing is counted


def seconds_for_seven_log(temperature_f: float, fat_pct: int = FATTEST_PCT) -> float:
    """Holding time of the table at a temperature, interpolated in log time.

    Infinite below the table. Rows printed as zero seconds carry on the slope of the
    last five timed rows: they are a print convention, not an instant.
    ValueError: a fat column the table does not have.
    """
    if temperature_f < COLDEST_F:
        return math.inf
    log_s, slope = _column(fat_pct)
    last_f = COLDEST_F + log_s.size - 1
    if temperature_f > last_f:
        return float(math.exp(log_s[-1] + slope * (temperature_f - last_f)))
    degrees = COLDEST_F + np.arange(log_s.size)
    return float(math.exp(np.interp(temperature_f, degrees, log_s)))


@lru_cache
def _column(fat_pct: int) -> tuple[Array, float]:
    """Logs of the timed rows' seconds from `COLDEST_F` on, and the slope at their end."""
    if not 1 <= fat_pct <= FATTEST_PCT:
        raise ValueError(f"the table has 1 to {FATTEST_PCT} % fat, not {fat_pct}")
    seconds = [SECONDS_BY_DEG_F[deg_f][fat_pct - 1] for deg_f in sorted(SECONDS_BY_DEG_F)]
    log_s = np.log([value for value in seconds if value > 0])
    slope = float(np.polyfit(np.arange(5.0), log_s[-5:], 1)[0])
    return log_s, slope


def rate_per_s(core_c: Array, fat_pct: int = FATTEST_PCT) -> Array:
    """Log10 reduction a second at these temperatures in C, any shape; 0 below the table."""
    log_s, slope = _column(fat_pct)
    core_f = np.asarray(core_c) * 1.8 + 32.0
    place = core_f - COLDEST_F
    timed = np.interp(place, np.arange(log_s.size), log_s)
    timed = timed + slope * np.maximum(place - (log_s.size - 1), 0.0)
    rate: Array = np.where(place < 0.0, 0.0, TABLE_LOG10 * np.exp(-timed))
    return rate


def log10_reduction(
    at_s: Sequence[float], core_f: Sequence[float], fat_pct: int = FATTEST_PCT
) -> float:
    """Log10 reduction along a core temperature history, linear between its points."""
    total = 0.0
    for (start_s, start_f), (end_s, end_f) in zip(
        zip(at_s, core_f, strict=True), list(zip(at_s, core_f, strict=True))[1:], strict=False
    ):
        pieces = max(1, math.ceil(abs(end_f - start_f) / 0.5))
        middle = start_f + (end_f - start_f) * (np.arange(pieces) + 0.5) / pieces
        rate = sum(1.0 / seconds_for_seven_log(float(f), fat_pct) for f in middle) / pieces
        total += TABLE_LOG10 * (end_s - start_s) * rate
    return total


def log10_reduction_dz(
    at_s: Sequence[float], core_f: Sequence[float], d_s: float, z_f: float, reference_f: float
) -> float:
    """The classical integral with one D and z, exact for straight pieces."""
    total = 0.0
    for index in range(len(at_s) - 1):
        span_s = at_s[index + 1] - at_s[index]
        low, high = (10.0 ** ((core_f[i] - reference_f) / z_f) for i in (index, index + 1))
        rise = core_f[index + 1] - core_f[index]
        mean = low if abs(rise) < 1e-9 else z_f * (high - low) / (math.log(10.0) * rise)
        total += span_s * mean / d_s
    return total
