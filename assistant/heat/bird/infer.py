"""What the readings say about the unknowns: a posterior, and an ensemble from it.

The unknowns are whitened (every coordinate standard normal before the readings):
those all birds share, each bird's own, and the innovations of the grill's path.
Gauss-Newton steps with sensitivities of the forward model find where the
posterior lies; the ensemble is drawn there anew each time, so it cannot collapse,
and weighted by the exact posterior. Readings err with heavy tails.
"""

from dataclasses import dataclass

import numpy as np

from assistant.heat.bird import air, priors, probe
from assistant.heat.bird.evidence import BirdEvidence, Evidence
from assistant.heat.bird.properties import Array
from assistant.heat.bird.roast import (
    SMALLEST_SIZE,
    Bodies,
    Timeline,
    Tracks,
    dipped,
    roast,
    settled,
    timeline,
)  # fmt: skip  # fmt: skip

SIZE_TAIL = 4.0  # of a bird's size about its weight: a weight may be wrong by half
NUDGE = 0.3  # finite difference in whitened units
ANNEAL_C = (6.0, 1.5, 0.0)  # added to the thermometer's error, pass by pass
LONGEST_MOVE = 3.0
PROPOSAL_POWER = 1.0  # of the posterior's variances; below one is wider than the normal fit
DOUBT = 1.0  # how much one reading that cannot be so weakens the others
SMALL_SHARE = 0.18  # of the ensemble that must keep carrying weight


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """One evening's unknowns, and the readings (bird index, time, temperature)."""

    evidence: Evidence
    now_s: float
    birds: tuple[BirdEvidence, ...]
    off_planned_s: tuple[float, ...]
    start_s: float
    end_s: float
    path: air.Path
    shared_mean: Array
    shared_factor: Array
    reading_bird: Array
    reading_s: Array
    reading_c: Array
    size_sd: Array

    @property
    def own(self) -> int:
        """Number of single birds' coordinates."""
        return priors.SHARED * len(self.birds)

    @property
    def dimension(self) -> int:
        """Number of all coordinates."""
        return priors.SHARED + self.own + self.path.knots_s.size


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """Normal approximation in whitened coordinates, a little wide: mean (D,), factor (D, D).
    `trust`: power of the likelihood, below one when readings contradict each other."""

    mean: Array
    factor: Array
    trust: float = 1.0

    def covariance(self) -> Array:
        """The normal approximation's own covariance (D, D), without the extra width."""
        wide, axes = np.linalg.eigh(self.factor @ self.factor.T)
        own: Array = (axes * wide ** (1.0 / PROPOSAL_POWER)) @ axes.T
        return own


def problem(evidence: Evidence, now_s: float, horizon_s: float) -> Problem:
    """Lay out the unknowns and the time axis from the first bird on to the horizon."""
    pairs = [settled(bird, now_s, evidence.planned_off_s) for bird in evidence.birds]
    birds = tuple(bird for bird, _ in pairs)
    start_s = min([bird.on_heat[0].start_s for bird in birds] + [now_s])
    mean, cov = priors.shared_prior(evidence.kitchen)
    readings = [
        (index, reading.at_s, reading.temperature_c)
        for index, bird in enumerate(birds)
        for reading in bird.readings
        if bird.on_heat[0].start_s < reading.at_s <= now_s
    ]
    columns = np.array(readings, dtype=float).reshape(-1, 3)
    return Problem(
        evidence=evidence, now_s=now_s, birds=birds,
        off_planned_s=tuple(planned for _, planned in pairs),
        start_s=start_s, end_s=now_s + horizon_s,
        path=air.path(evidence, air.knots(start_s, now_s, now_s + horizon_s)),
        shared_mean=mean, shared_factor=np.linalg.cholesky(cov),
        reading_bird=columns[:, 0].astype(int), reading_s=columns[:, 1], reading_c=columns[:, 2],
        size_sd=np.array([priors.size_sd(bird) for bird in birds]),
    )  # fmt: skip


def bodies(task: Problem, shared: Array, own: Array) -> Bodies:
    """Physical unknowns from whitened ones: shared (S, p), own (S, birds, p)."""
    common = task.shared_mean[:, None] + task.shared_factor @ shared
    sd = np.array([unknown.bird for unknown in priors.UNKNOWNS])[:, None, None]
    sd = np.broadcast_to(sd, (priors.SHARED, len(task.birds), 1)).copy()
    sd[priors.NAMES.index("size"), :, 0] = task.size_sd
    sd *= task.evidence.kitchen.scatter
    value = common[:, None, :] + sd * own
    surface, size, wet, start, probe, shape = value
    exponent = np.clip(priors.SHAPE_EXPONENT + shape, *priors.SHAPE_LIMITS)
    pace = np.sqrt((exponent + 1.0) / (priors.SHAPE_EXPONENT + 1.0))  # shape alone: same time
    median = np.array([priors.median_length_m(bird) for bird in task.birds])[:, None]
    return Bodies(
        length_m=median * np.maximum(np.exp(size) * pace, SMALLEST_SIZE),
        gain=priors.SURFACE_GAIN * np.exp(surface),
        wet=priors.WETNESS * np.exp(wet),
        start_c=priors.START_C + start,
        offset=priors.PROBE_OFFSET * np.exp(probe),
        exponent=exponent,
    )


def split(task: Problem, z: Array) -> tuple[Array, Array, Array]:
    """Shared (S, p), own (S, birds, p) and path (K, p) parts of z (D, p)."""
    shared, own, path = np.split(z, [priors.SHARED, priors.SHARED + task.own])
    return shared, own.reshape(priors.SHARED, len(task.birds), z.shape[1]), path


def fire(task: Problem, path_z: Array, line: Timeline) -> Array:
    """Grill temperature by step (steps, p) from the path's innovations (K, p)."""
    knots_c = task.path.mean_c[:, None] + task.path.factor @ path_z
    return dipped(task.evidence, line, task.now_s, task.path, knots_c)


def at_readings(task: Problem, tracks: Tracks, offset: Array) -> tuple[Array, Array]:
    """Coldest spot and mean miss at each reading, both (readings, p), in C."""
    core = _interpolate(task, tracks.at_s, tracks.core_c)
    rise = _interpolate(task, tracks.at_s, tracks.rise_c)
    return core, probe.mean_miss_c(offset[task.reading_bird], rise)


def _interpolate(task: Problem, at_s: Array, values: Array) -> Array:
    step = at_s[1] - at_s[0]
    place = np.clip((task.reading_s - at_s[0]) / step, 0.0, at_s.size - 1.0)
    left = np.minimum(place.astype(int), at_s.size - 2)
    part = (place - left)[:, None]
    bird = task.reading_bird
    mixed: Array = (1.0 - part) * values[left, bird] + part * values[left + 1, bird]
    return mixed


def sensitivities(task: Problem, z: Array) -> tuple[Array, Array, Array, Array]:
    """Coldest spot and log mean miss at the readings, (R,), and derivatives (R, D)."""
    heard = int(np.searchsorted(task.path.knots_s, task.now_s)) + 1
    knots = min(heard, task.path.knots_s.size)
    count = 1 + 2 * priors.SHARED + knots
    columns = np.repeat(z[:, None], count, axis=1)
    shared, own, path = split(task, columns)
    for j in range(priors.SHARED):
        shared[j, 1 + j] += NUDGE
        own[j, :, 1 + priors.SHARED + j] += NUDGE
    path[np.arange(knots), 1 + 2 * priors.SHARED + np.arange(knots)] += NUDGE
    bird = bodies(task, shared, own)
    past = timeline(bird, task.start_s, task.now_s, task.now_s)
    tracks = roast(task.evidence, task.birds, past, bird, fire(task, path, past))
    core, miss = at_readings(task, tracks, bird.offset)
    log_miss = np.log(miss)
    return core[:, 0], log_miss[:, 0], _spread_out(task, core), _spread_out(task, log_miss)


def _spread_out(task: Problem, values: Array) -> Array:
    """Jacobian (R, D) from the nudged columns of `sensitivities`."""
    change = (values[:, 1:] - values[:, :1]) / NUDGE
    count = values.shape[0]
    jacobian = np.zeros((count, task.dimension))
    jacobian[:, : priors.SHARED] = change[:, : priors.SHARED]
    for j in range(priors.SHARED):
        place = priors.SHARED + j * len(task.birds) + task.reading_bird
        jacobian[np.arange(count), place] = change[:, priors.SHARED + j]
    first = priors.SHARED + task.own
    knots = change.shape[1] - 2 * priors.SHARED
    jacobian[:, first : first + knots] = change[:, 2 * priors.SHARED :]
    return jacobian


def prior_precision(task: Problem, z: Array) -> Array:
    """Diagonal precision (D,): one, less where a bird's size strays from its weight."""
    precision = np.ones(task.dimension)
    first = priors.SHARED + priors.NAMES.index("size") * len(task.birds)
    sizes = slice(first, first + len(task.birds))
    precision[sizes] = (SIZE_TAIL + 1.0) / (SIZE_TAIL + z[sizes] ** 2)
    return precision


def fit(task: Problem) -> Posterior:
    """Where the posterior lies, by annealed, reweighted Gauss-Newton steps."""
    z, trust = np.zeros(task.dimension), 1.0
    if not task.reading_c.size:
        return Posterior(z, np.eye(task.dimension))
    for extra in ANNEAL_C:
        core, log_miss, by_core, by_miss = sensitivities(task, z)
        sd = float(np.hypot(probe.READING_SD_C, extra))
        slope = probe.slopes(task.reading_c - core, np.exp(log_miss), sd)
        prior = prior_precision(task, z)
        precision = (
            np.diag(prior)
            + by_core.T @ (trust * slope.core_curvature[:, None] * by_core)
            + by_miss.T @ (trust * slope.miss_curvature[:, None] * by_miss)
        )
        pull = trust * (by_core.T @ slope.to_core + by_miss.T @ slope.to_log_miss) - prior * z
        move = np.linalg.solve(precision, pull)
        trust = 1.0 / (1.0 + DOUBT * float(slope.doubt.sum()))
        z = z + move * min(1.0, LONGEST_MOVE / max(float(np.abs(move).max()), 1e-9))
    informed, axes = np.linalg.eigh(precision)
    # The symmetric root moves smoothly with the evidence, so draws do too.
    root = (axes * informed ** (-0.5 * PROPOSAL_POWER)) @ axes.T
    return Posterior(z, root, trust)


def draw(task: Problem, posterior: Posterior, particles: int, seed: int) -> Array:
    """Antithetic draws (D, particles) about the posterior's mean."""
    noise = np.random.default_rng(seed).standard_normal((task.dimension, (particles + 1) // 2))
    both = np.concatenate([noise, -noise], axis=1)[:, :particles]
    z: Array = posterior.mean[:, None] + posterior.factor @ both
    return z


def weigh(task: Problem, posterior: Posterior, z: Array, tracks: Tracks, offset: Array) -> Array:
    """Normalised weights (particles,), tempered so that enough particles count."""
    if not task.reading_c.size:
        return np.full(z.shape[1], 1.0 / z.shape[1])
    core, miss = at_readings(task, tracks, offset)
    told = probe.log_likelihood(task.reading_c[:, None] - core, miss).sum(axis=0)
    target = posterior.trust * told
    first = priors.SHARED + priors.NAMES.index("size") * len(task.birds)
    size = z[first : first + len(task.birds)]
    target -= 0.5 * (z**2).sum(axis=0) - 0.5 * (size**2).sum(axis=0)
    target -= 0.5 * (SIZE_TAIL + 1.0) * np.log1p(size**2 / SIZE_TAIL).sum(axis=0)
    white = np.linalg.solve(posterior.factor, z - posterior.mean[:, None])
    return temper(target + 0.5 * (white**2).sum(axis=0))


def temper(log_weight: Array) -> Array:
    """Normalised weights, flattened until `SMALL_SHARE` of the ensemble counts."""
    log_weight = log_weight - log_weight.max()
    power = 1.0
    while True:
        weight = np.exp(power * log_weight)
        weight /= weight.sum()
        if 1.0 / np.square(weight).sum() >= SMALL_SHARE * weight.size:
            return np.asarray(weight)
        power *= 0.8
