"""What a hand-held reading says about the coldest spot.

A probe that misses the coldest spot reads higher, never lower, by about the square of
the distance: where the tip ends normally about the spot, across and along, the excess
is exponential, with a mean that grows with how much warmer the neighbourhood is. On
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


def log_likelihood(
    excess_c: Array, miss_c: Array, sd: Array | float = READING_SD_C,
    wild: Array | float = WILD_SHARE,
) -> Array:  # fmt: skip
    """Log density of a reading that lies `excess_c` above the coldest spot; `wild` is the
    share of readings that are anything at all."""
    honest, _ = _honest(excess_c, miss_c, sd, wild)
    total: Array = np.logaddexp(honest, np.log(np.asarray(wild) / WILD_SPAN_C))
    return total


def _honest(
    excess_c: Array, miss_c: Array, sd: Array | float, wild: Array | float
) -> tuple[Array, Array]:
    """Log density of a normal plus an exponential error, and the argument of its cut-off."""
    cut = excess_c / sd - sd / miss_c
    log_density = 0.5 * (sd / miss_c) ** 2 - np.log(miss_c) - excess_c / miss_c + log_ndtr(cut)
    return np.log1p(-np.asarray(wild)) + log_density, cut


def slopes(
    excess_c: Array, miss_c: Array, sd: Array | float, wild: Array | float = WILD_SHARE
) -> Slopes:
    """First derivatives, and curvatures fit for Gauss-Newton steps."""
    honest, cut = _honest(excess_c, miss_c, sd, wild)
    believed = np.exp(honest - np.logaddexp(honest, np.log(np.asarray(wild) / WILD_SPAN_C)))
    hazard = np.exp(-0.5 * cut**2 - 0.5 * math.log(2.0 * math.pi) - log_ndtr(cut))
    by_sd = sd / miss_c
    # Where the exponential's flat flank hides all curvature, its own spread is used.
    curvature = np.maximum(hazard * (hazard + cut) / sd**2, 0.5 / (sd**2 + miss_c**2))
    return Slopes(
        to_core=believed * (1.0 / miss_c - hazard / sd),
        to_log_miss=believed * (excess_c / miss_c - 1.0 - by_sd**2 + hazard * by_sd),
        core_curvature=believed * curvature,
        miss_curvature=believed * (miss_c / (miss_c + sd)),
    )
