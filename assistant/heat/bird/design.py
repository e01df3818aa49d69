"""A fixed design: the same points for every forecast, none drawn anew.

A Latin hypercube whose coordinates are next to uncorrelated (`scipy.stats.qmc` has good
ones, and takes half a second to load). Standard normals, but for the first coordinate: it
is Student's t, so that what lies far out along the one direction that matters most is
looked at too; `log_share` is what each point has to be weighted by for that.
"""

from functools import lru_cache

import numpy as np
from scipy.special import gammaincinv, gammaln, ndtri, stdtrit

from assistant.heat.bird.properties import Array

TAIL = 3.0  # degrees of freedom of the first coordinate
WAIT_SHAPE = 3.0  # of a wait: seldom none, seldom more than twice the mean
SCRAMBLE = 27  # which design: one of a dozen that is near what 8,192 points say
ROUNDS = 2  # of ranking what was made orthogonal; ranks spoil it a little


@lru_cache(maxsize=32)
def design(dimensions: int, points: int) -> tuple[Array, Array]:
    """The points (dimensions, points), every coordinate exactly stratified, and their log
    shares (points,). Not to be written to."""
    normal: Array = np.random.default_rng(SCRAMBLE).standard_normal((points, dimensions))
    for _ in range(ROUNDS):
        apart, _ = np.linalg.qr(np.column_stack([np.ones(points), normal]))
        order = np.argsort(np.argsort(apart[:, 1:], axis=0), axis=0)
        normal = ndtri((order + 0.5) / points)
    normal, order = np.ascontiguousarray(normal.T), order.T
    normal /= normal.std(axis=1, keepdims=True)
    normal[0] = stdtrit(TAIL, (order[0] + 0.5) / points)
    log_t = gammaln(0.5 * (TAIL + 1.0)) - gammaln(0.5 * TAIL) - 0.5 * np.log(TAIL * np.pi)
    log_t = log_t - 0.5 * (TAIL + 1.0) * np.log1p(normal[0] ** 2 / TAIL)
    log_share: Array = -0.5 * normal[0] ** 2 - 0.5 * np.log(2.0 * np.pi) - log_t
    for one in (normal, log_share):
        one.setflags(write=False)
    return normal, log_share


@lru_cache(maxsize=8)
def waits(birds: int, points: int) -> Array:
    """Gamma variables of mean one (birds, points), unrelated to the other coordinates."""
    values: Array = gammaincinv(WAIT_SHAPE, _apart(birds, points, SCRAMBLE)) / WAIT_SHAPE
    return values


@lru_cache(maxsize=8)
def unforeseen(birds: int, points: int) -> Array:
    """Standard normals (birds, points), unrelated to all others."""
    values: Array = ndtri(_apart(birds, points, SCRAMBLE + 1))
    return values


def _apart(birds: int, points: int, scramble: int) -> Array:
    """Evenly spread probabilities (birds, points), each bird's in an order of its own."""
    rows = np.tile(np.arange(points), (birds, 1))
    shares: Array = (np.random.default_rng(scramble).permuted(rows, axis=1) + 0.5) / points
    return shares
