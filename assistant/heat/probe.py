"""What a hand-held reading says about the coldest spot.

A probe that misses the coldest spot reads higher, never lower: the excess is
exponential, with a mean that grows with how much warmer the neighbourhood is. On
top come the thermometer's own error and, now and then, a reading that is anything
at all (a bone, the pan, a number misheard).
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import log_ndtr

from assistant.heat.properties import Array

READING_SD_C = 1.6  # thermometer (Food Code: +-1 C), a probe read before it settled, rounding
LEAST_MISS_C = 0.4
WILD_SHARE = 0.06
WILD_SPAN_C = 340.0
LOG_HONEST = math.log1p(-WILD_SHARE)
LOG_WILD = math.log(WILD_SHARE / WILD_SPAN_C)


@dataclass(frozen=True, slots=True, eq=False)
class Slopes:
    """Derivatives of a reading's log likelihood, and non-negative curvatures."""

    to_core: Array
    to_log_miss: Array
    core_curvature: Array
    miss_curvature: Array


def mean_miss_c(offset: Array, rise_c: Array) -> Array:
    """Mean excess of a reading over the coldest spot."""
    return np.maximum(offset * rise_c, LEAST_MISS_C)


def _honest(excess_c: Array, miss_c: Array, sd: float) -> tuple[Array, Array]:
    """Log density of normal plus exponential error, and the argument of its cut-off."""
    cut = excess_c / sd - sd / miss_c
    log_density = -np.log(miss_c) + 0.5 * (sd / miss_c) ** 2 - excess_c / miss_c + log_ndtr(cut)
    return log_density, cut


def log_likelihood(excess_c: Array, miss_c: Array, sd: float = READING_SD_C) -> Array:
    """Log density of a reading that lies `excess_c` above the coldest spot."""
    honest, _ = _honest(excess_c, miss_c, sd)
    total: Array = np.logaddexp(LOG_HONEST + honest, LOG_WILD)
    return total


def slopes(excess_c: Array, miss_c: Array, sd: float) -> Slopes:
    """First derivatives, and curvatures fit for Gauss-Newton steps."""
    honest, cut = _honest(excess_c, miss_c, sd)
    believed = np.exp(LOG_HONEST + honest - np.logaddexp(LOG_HONEST + honest, LOG_WILD))
    hazard = np.exp(-0.5 * cut**2 - 0.5 * math.log(2.0 * math.pi) - log_ndtr(cut))
    to_core = 1.0 / miss_c - hazard / sd
    by_sd = sd / miss_c
    to_log_miss = -1.0 - by_sd**2 + excess_c / miss_c + hazard * by_sd
    curvature = hazard * (hazard + cut) / sd**2
    # Where the exponential's flat flank hides all curvature, its own spread is used.
    curvature = np.maximum(curvature, 0.5 / (sd**2 + miss_c**2))
    return Slopes(
        to_core=believed * to_core,
        to_log_miss=believed * to_log_miss,
        core_curvature=believed * curvature,
        miss_curvature=believed * (miss_c / (miss_c + sd)),
    )
