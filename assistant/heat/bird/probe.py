"""What a hand-held reading says about the coldest spot.

A probe that misses the coldest spot reads higher, never lower: the excess is
a mixture of exponentials, with a mean that grows with how much warmer the neighbourhood is. On
top come the thermometer's own error and, now and then, a reading that is anything
at all (a bone, the pan, a number misheard).
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import log_ndtr

from assistant.heat.bird.properties import Array

READING_SD_C = 1.9  # thermometer (Food Code: +-1 C), a probe read before it settled, rounding
LEAST_MISS_C = 0.4
# Most probes come near the coldest spot, some far off it: two exponentials, mean 1.
MISS_SHARES, MISS_SCALES = np.array([0.6, 0.4]), np.array([0.4, 1.9])
WILD_SHARE = 0.06
CONFIRMED_WILD_SHARE = 1e-9  # asked back and insisted on: it was really read
CONFIRMED_SD_C = 2.5
WILD_SPAN_C = 340.0


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


def _parts(excess_c: Array, miss_c: Array, sd: Array | float) -> tuple[Array, Array, Array]:
    """Log densities (parts, ...) of normal plus exponential errors, the arguments of
    their cut-offs, and the exponentials' means."""
    scale = MISS_SCALES.reshape(-1, *[1] * np.ndim(miss_c)) * miss_c
    cut = excess_c / sd - sd / scale
    log_share = np.log(MISS_SHARES).reshape(-1, *[1] * np.ndim(miss_c))
    log_density = (
        log_share - np.log(scale) + 0.5 * (sd / scale) ** 2 - excess_c / scale + log_ndtr(cut)
    )
    return log_density, cut, scale


def log_likelihood(
    excess_c: Array, miss_c: Array, sd: Array | float = READING_SD_C,
    wild: Array | float = WILD_SHARE,
) -> Array:  # fmt: skip
    """Log density of a reading that lies `excess_c` above the coldest spot; `wild` is the
    share of readings that are anything at all."""
    parts, _, _ = _parts(excess_c, miss_c, sd)
    honest = np.log1p(-np.asarray(wild)) + np.logaddexp.reduce(parts, axis=0)
    total: Array = np.logaddexp(honest, np.log(np.asarray(wild) / WILD_SPAN_C))
    return total


def slopes(
    excess_c: Array, miss_c: Array, sd: Array | float, wild: Array | float = WILD_SHARE
) -> Slopes:
    """First derivatives, and curvatures fit for Gauss-Newton steps."""
    parts, cut, scale = _parts(excess_c, miss_c, sd)
    honest = np.log1p(-np.asarray(wild))
    total = np.logaddexp(
        honest + np.logaddexp.reduce(parts, axis=0), np.log(np.asarray(wild) / WILD_SPAN_C)
    )
    believed = np.exp(honest + parts - total)
    hazard = np.exp(-0.5 * cut**2 - 0.5 * math.log(2.0 * math.pi) - log_ndtr(cut))
    to_core = 1.0 / scale - hazard / sd
    by_sd = sd / scale
    to_log_miss = -1.0 - by_sd**2 + excess_c / scale + hazard * by_sd
    # Where the exponential's flat flank hides all curvature, its own spread is used.
    curvature = np.maximum(hazard * (hazard + cut) / sd**2, 0.5 / (sd**2 + scale**2))
    return Slopes(
        to_core=(believed * to_core).sum(axis=0),
        to_log_miss=(believed * to_log_miss).sum(axis=0),
        core_curvature=(believed * curvature).sum(axis=0),
        miss_curvature=(believed * (scale / (scale + sd))).sum(axis=0),
    )
