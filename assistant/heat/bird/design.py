"""A fixed quasi-random design: the same points for every forecast, none drawn anew.

Standard normals, but for the first coordinate: it is Student's t, so that what lies far
out along the one direction that matters most is looked at too; `log_share` is what each
point has to be weighted by for that.
"""

from functools import lru_cache

import numpy as np
from scipy.special import gammaincinv, gammaln, ndtri, stdtrit
from scipy.stats import qmc

from assistant.heat.bird.properties import Array

SOBOL_DIMENSIONS = 64
TAIL = 3.0  # degrees of freedom of the first coordinate
WAIT_SHAPE = 3.0  # of a wait: seldom none, seldom more than twice the mean
SCRAMBLE = 20  # any number: which of the equally good designs


@lru_cache(maxsize=32)
def design(dimensions: int, points: int) -> tuple[Array, Array]:
    """The points (dimensions, points), every coordinate exactly stratified, and their log
    shares (points,). Not to be written to."""
    wanted = min(dimensions, SOBOL_DIMENSIONS)
    sobol = qmc.Sobol(wanted, scramble=True, rng=np.random.default_rng(SCRAMBLE))
    uniform = sobol.random_base2(int(np.ceil(np.log2(points))))[:points].T
    order = np.argsort(np.argsort(uniform, axis=1), axis=1)
    normal: Array = ndtri((order + 0.5) / points)
    if dimensions > wanted:  # a long evening's far knots: turned copies are random enough
        more = np.concatenate([np.roll(normal, 37 * (k + 1), axis=1) for k in range(
            (dimensions - 1) // wanted)])  # fmt: skip
        normal = np.concatenate([normal, more])[:dimensions]
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
    order = np.random.default_rng(SCRAMBLE).permuted(np.tile(np.arange(points), (birds, 1)), axis=1)
    values: Array = gammaincinv(WAIT_SHAPE, (order + 0.5) / points) / WAIT_SHAPE
    return values
