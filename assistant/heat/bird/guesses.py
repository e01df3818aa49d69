"""The posterior followed point by point: each bird on a fixed quasi-random design in what
bears on it, stratified first along the direction its done time depends on, and weighted by
how the exact likelihood of its own readings differs from the normal fit.
"""

from dataclasses import dataclass

import numpy as np
from scipy.linalg import solve_triangular

from assistant.heat.bird import priors, probe
from assistant.heat.bird.design import design
from assistant.heat.bird.infer import Posterior, Problem, unknowns
from assistant.heat.bird.properties import Array

# Of a bird's own readings' curvature the design leaves out this share: nearly all of a first
# reading's, whose likelihood is flat below it (the probe may have missed by far), less of more.
WIDER_FIRST, WIDER_LESS, WIDER = 0.95, 0.25, 0.4
SMALL_SHARE = 0.06  # of the design that must keep carrying weight


@dataclass(frozen=True, slots=True, eq=False)
class Guesses:
    """The design: each bird's unknowns (SHARED, birds, P), the path's innovations
    (K, birds, P), and the deviation from the fit along each reading's derivatives."""

    value: Array
    innovations: Array
    core_moved: Array  # (R, P)
    miss_moved: Array
    log_share: Array  # (P,)


def guesses(task: Problem, posterior: Posterior, points: int) -> Guesses:
    """The fixed design, stretched and turned bird by bird to the posterior, and wider than
    it by part of what the bird's own readings say: their exact likelihood has flanks."""
    count, birds, knots = priors.SHARED, len(task.birds), task.path.knots_s.size
    normal, log_share = design(count + knots, points)
    curvature = left_out(task) * posterior.slope.core_curvature
    mean, path = unknowns(task, posterior.mean)
    value = np.empty((count, birds, points))
    innovations = np.empty((knots, birds, points))
    moved = np.zeros((2, task.reading_c.size, points))
    bird_of_reading = task.bird_of_row[task.reading_row]
    for index in range(birds):
        onto = np.zeros((count + knots, task.dimension))
        onto[:count, :count] = task.shared_factor
        own = count * (1 + index) + np.arange(count)
        onto[np.arange(count), own] = task.own_sd[index]
        onto[count:, count * (1 + birds) :] = np.eye(knots)
        mine = np.flatnonzero(bird_of_reading == index)
        lower = posterior.lower
        if mine.size:
            by = posterior.local.by_core[mine]
            precision = lower @ lower.T - by.T @ (curvature[mine][:, None] * by)
            lower = np.linalg.cholesky(precision)
        half = solve_triangular(lower, onto.T, lower=True)  # onto cov onto' = half' half
        toward = solve_triangular(lower, posterior.local.to_done[index], lower=True)
        spread = np.linalg.cholesky(half.T @ half + 1e-12 * np.eye(count + knots))
        step = spread @ _turned(np.linalg.solve(spread, half.T @ toward), normal)
        value[:, index] = mean[index][:, None] + step[:count]
        innovations[:, index] = path[:, None] + step[count:]
        if mine.size:
            for part, by in enumerate((posterior.local.by_core, posterior.local.by_miss)):
                moved[part, mine] = _seen_by(task, by[mine]) @ step
    return Guesses(value, innovations, moved[0], moved[1], log_share)


def left_out(task: Problem) -> Array:
    """Share of each reading's curvature that the design leaves out (R,)."""
    bird = task.bird_of_row[task.reading_row]
    count = np.bincount(bird, minlength=len(task.birds))
    share: Array = np.maximum(WIDER_FIRST - WIDER_LESS * (count - 1.0), WIDER)[bird]
    return share


def _seen_by(task: Problem, by: Array) -> Array:
    """Derivatives (n, SHARED + K) to a bird's unknowns and the knots, from (n, D)."""
    count = priors.SHARED
    known = np.linalg.solve(task.shared_factor.T, by[:, :count].T).T
    return np.concatenate([known, by[:, count * (1 + len(task.birds)) :]], axis=1)


def _turned(toward: Array, normal: Array) -> Array:
    """Reflect the design so that its first, best spread coordinate points `toward`."""
    length = float(np.linalg.norm(toward))
    if length < 1e-9:
        return normal
    mirror = toward / length
    mirror[0] -= 1.0
    square = float(mirror @ mirror)
    if square < 1e-12:
        return normal
    turned: Array = normal - np.outer(mirror, (2.0 / square) * (mirror @ normal))
    return turned


def weigh(task: Problem, posterior: Posterior, drawn: Guesses, core: Array, miss: Array) -> Array:
    """Normalised weights (birds, P): the exact likelihood of each bird's readings over
    that of the normal fit, tempered so that enough of the design counts."""
    weight = np.tile(temper(drawn.log_share), (len(task.birds), 1))
    if not task.reading_c.size:
        return weight
    sd, wild = task.sd_c[:, None], task.wild[:, None]
    exact = probe.log_likelihood(task.reading_c[:, None] - core, miss, sd, wild)
    slope, local = posterior.slope, posterior.local
    core_from = drawn.core_moved + (local.by_core @ posterior.move)[:, None]
    miss_from = drawn.miss_moved + (local.by_miss @ posterior.move)[:, None]
    fitted = (
        slope.to_core[:, None] * core_from
        - 0.5 * slope.core_curvature[:, None] * core_from**2
        + slope.to_log_miss[:, None] * miss_from
        - 0.5 * slope.miss_curvature[:, None] * miss_from**2
        + 0.5 * (left_out(task) * slope.core_curvature)[:, None] * drawn.core_moved**2
    )
    bird = task.bird_of_row[task.reading_row]
    for index in range(len(task.birds)):
        mine = bird == index
        if mine.any():
            weight[index] = temper(drawn.log_share + (exact - fitted)[mine].sum(axis=0))
    return weight


def temper(log_weight: Array) -> Array:
    """Normalised weights, flattened until `SMALL_SHARE` of the design counts."""
    log_weight = log_weight - log_weight.max()
    power = 1.0
    while True:
        weight = np.exp(power * log_weight)
        weight /= weight.sum()
        if 1.0 / np.square(weight).sum() >= SMALL_SHARE * weight.size:
            return np.asarray(weight)
        power *= 0.8
