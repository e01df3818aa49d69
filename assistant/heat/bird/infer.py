"""What the readings say about the unknowns: a posterior, without a random draw.

The unknowns are whitened (every coordinate standard normal before the readings):
those all birds share, each bird's own, and the innovations of the grill's path.
Gauss-Newton steps with sensitivities of the forward model find where the posterior
lies. What is made of that fit is `assistant.heat.bird.guesses`. Readings err with
heavy tails, one by one: a doubted one weakens no other.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from assistant.heat.bird import air, priors, probe
from assistant.heat.bird.evidence import BirdEvidence, Evidence
from assistant.heat.bird.probe import Slopes
from assistant.heat.bird.properties import Array
from assistant.heat.bird.roast import (
    Bodies,
    Row,
    Stage,
    bodies,
    feels,
    looked,
    march,
    rows_of,
    settled,
    stage,
    timeline,
    typical_roast_s,
)  # fmt: skip

SIZE_TAIL = 4.0  # of a bird's size about its weight: a weight may be wrong by half
NUDGE = 0.3  # finite difference, of an unknown's own spread
# Added to the thermometer's error, pass by pass. The second way in doubts no reading at
# first, lest three that agree are all thrown out for a weight that was told wrong.
ANNEAL_C = (6.0, 1.5, 0.0)
TRUSTING_C = (12.0, 3.0, 0.0)
NEVER_WILD = 1e-12
LONGEST_MOVE = 3.0
HORIZON, SHORTEST_HORIZON = 2.0, 0.8  # typical roasts from going on, and from now


@dataclass(frozen=True, slots=True, eq=False)
class Problem:
    """One evening's unknowns, and its readings by row of the stage."""

    evidence: Evidence
    now_s: float
    birds: tuple[BirdEvidence, ...]
    off_planned_s: tuple[float, ...]
    stage: Stage
    path: air.Path
    smooth: Array  # (steps, K): the path at the middle of each step from its knots
    shared_mean: Array
    shared_factor: Array
    own_sd: Array  # (birds, SHARED)
    reading_row: Array
    reading_s: Array
    reading_c: Array
    wild: Array
    sd_c: Array

    @property
    def bird_of_row(self) -> Array:
        """Place of each row's bird."""
        return np.array([row.bird for row in self.stage.rows])

    @property
    def dimension(self) -> int:
        """Number of all coordinates: shared, each bird's own, the path's."""
        return priors.SHARED * (1 + len(self.birds)) + self.path.knots_s.size


def problem(evidence: Evidence, now_s: float) -> Problem:
    """Lay out the unknowns and the time axis from the first bird on to the horizon."""
    pairs = [settled(bird, now_s, evidence.planned_off_s) for bird in evidence.birds]
    birds = tuple(bird for bird, _ in pairs)
    start_s = min([bird.on_heat[0].start_s for bird in birds] + [now_s])
    ends = [bird.on_heat[0].start_s + HORIZON * typical_roast_s(bird) for bird in birds]
    longest_s = max(typical_roast_s(bird) for bird in birds)
    end_s = max(*ends, now_s + SHORTEST_HORIZON * longest_s)
    rows = rows_of(birds)
    line = timeline(birds, start_s, now_s, end_s)
    mean, cov = priors.shared_prior(evidence.kitchen, evidence.heat)
    path = air.path(evidence, air.knots(start_s, now_s, end_s))
    told = [
        (
            rows.index(Row(index, site)), one.at_s, one.temperature_c,
            probe.CONFIRMED_WILD_SHARE if one.confirmed else probe.WILD_SHARE,
            probe.CONFIRMED_SD_C if one.confirmed else probe.READING_SD_C,
        )
        for index, bird in enumerate(birds)
        for one, site in zip(bird.readings, bird.read_at, strict=True)
        if bird.on_heat[0].start_s < one.at_s <= now_s
    ]  # fmt: skip
    columns = np.array(told, dtype=float).reshape(-1, 5)
    return Problem(
        evidence=evidence, now_s=now_s, birds=birds,
        off_planned_s=tuple(planned for _, planned in pairs),
        stage=stage(evidence, birds, rows, line, now_s), path=path,
        smooth=air.interpolation(path.knots_s, line.at_s()[:-1] + 0.5 * line.dt_s),
        shared_mean=mean, shared_factor=np.linalg.cholesky(cov),
        own_sd=evidence.kitchen.scatter * np.array([priors.own_sd(bird) for bird in birds]),
        reading_row=columns[:, 0].astype(int), reading_s=columns[:, 1], reading_c=columns[:, 2],
        wild=columns[:, 3], sd_c=columns[:, 4],
    )  # fmt: skip


def unknowns(task: Problem, z: Array) -> tuple[Array, Array]:
    """Each bird's unknowns (birds, SHARED) and the path's innovations (K,) at z (D,)."""
    count = priors.SHARED
    shared = task.shared_mean + task.shared_factor @ z[:count]
    own = z[count : count * (1 + len(task.birds))].reshape(len(task.birds), count)
    return shared + task.own_sd * own, z[count * (1 + len(task.birds)) :]


def run(
    task: Problem, value: Array, innovations: Array, steps: int | None = None
) -> tuple[Bodies, Array]:
    """Bodies and what they feel (steps, rows, p) for unknowns `value` (SHARED, rows, p)
    and path innovations (K, rows, p), in single precision."""
    steps = task.stage.line.steps if steps is None else steps
    body = bodies(task.evidence, task.birds, task.stage.rows, value)
    knots = task.path.factor @ innovations.reshape(innovations.shape[0], -1)
    knots += task.path.mean_c[:, None]
    air_c = task.smooth[:steps].astype(np.float32) @ knots.astype(np.float32)
    air_c = air_c.reshape(-1, *innovations.shape[1:])
    return body, feels(task.stage.until(steps), body, air_c)


def at_readings(task: Problem, values: Array) -> Array:
    """Values (times, rows, p) at each reading, (readings, p)."""
    line = task.stage.line
    place = np.clip((task.reading_s - line.start_s) / line.dt_s, 0.0, values.shape[0] - 1.0)
    left = np.minimum(place.astype(int), values.shape[0] - 2)
    part = (place - left)[:, None]
    row = task.reading_row
    mixed: Array = (1.0 - part) * values[left, row] + part * values[left + 1, row]
    return mixed


@dataclass(frozen=True, slots=True, eq=False)
class Local:
    """The forward model near one z: readings' cores and log misses (R,), derivatives
    (R, D), and how each bird's core moves at its likely done time (birds, D)."""

    core_c: Array
    log_miss: Array
    by_core: Array
    by_miss: Array
    to_done: Array


@dataclass(frozen=True, slots=True, eq=False)
class Posterior:
    """A normal fit in whitened coordinates (D,), the factor of its precision, and the
    linear model and slopes of the readings' likelihood that it rests on, taken `move`
    before the mean."""

    mean: Array
    move: Array
    lower: Array
    local: Local
    slope: Slopes


def near(task: Problem, z: Array, *, whole: bool) -> Local:
    """Run the model at z and nudged in every unknown and every knot, to the horizon
    (`whole`) or until now."""
    value, innovations = unknowns(task, z)
    count, knots = priors.SHARED, task.path.knots_s.size
    nudge = NUDGE * np.array([unknown.kitchen + unknown.bird for unknown in priors.UNKNOWNS])
    rows = len(task.stage.rows)
    values = np.repeat(value[task.bird_of_row].T[:, :, None], 1 + count + knots, axis=2)
    paths = np.repeat(innovations[:, None], 1 + count + knots, axis=1)
    for j in range(count):
        values[j, :, 1 + j] += nudge[j]
    places = np.arange(knots)
    paths[places, 1 + count + places] += NUDGE
    paths = np.repeat(paths[:, None, :], rows, axis=1)
    line = task.stage.line
    body, felt = run(task, values, paths, None if whole else min(line.now + 1, line.steps))
    seen = march(task.stage, body, felt)
    core = looked(seen, body.centre.astype(np.float32)).astype(float)
    rise = looked(seen, (body.probed - body.centre).astype(np.float32)).astype(float)
    per = np.concatenate([nudge, np.full(knots, NUDGE)])
    at, risen = at_readings(task, core), at_readings(task, rise)
    log_miss = np.log(probe.mean_miss_c(body.offset[task.reading_row], risen))
    bird = task.bird_of_row[task.reading_row]
    return Local(
        at[:, 0], log_miss[:, 0],
        _spread_out(task, (at[:, 1:] - at[:, :1]) / per, bird),
        _spread_out(task, (log_miss[:, 1:] - log_miss[:, :1]) / per, bird),
        _to_done(task, core, per),
    )  # fmt: skip


def _spread_out(task: Problem, change: Array, bird: NDArray[np.int_]) -> Array:
    """Derivatives (n, D) from those to a bird's unknowns and the knots (n, SHARED + K)."""
    count, birds = priors.SHARED, len(task.birds)
    full = np.zeros((change.shape[0], task.dimension))
    full[:, :count] = change[:, :count] @ task.shared_factor
    own = count * (1 + bird)[:, None] + np.arange(count)
    np.put_along_axis(full, own, change[:, :count] * task.own_sd[bird], axis=1)
    full[:, count * (1 + birds) :] = change[:, count:]
    return full


def _to_done(task: Problem, core: Array, per: Array) -> Array:
    """How each bird's core moves at the time its middle guess is done, (birds, D)."""
    birds = len(task.birds)
    last = core.shape[0] - 1
    change = np.empty((birds, per.size))
    for index, bird in enumerate(task.birds):
        row = int(np.flatnonzero(task.bird_of_row == index)[-1])
        done = core[:, row, 0] >= bird.done_mark_c
        step = int(done.argmax()) if done.any() else last
        step = max(step, min(task.stage.line.now, last), 1)
        change[index] = (core[step, row, 1:] - core[step, row, 0]) / per
    return _spread_out(task, change, np.arange(birds))


def prior_precision(task: Problem, z: Array) -> Array:
    """Diagonal precision (D,): one, less where a bird's size strays from its weight."""
    precision = np.ones(task.dimension)
    sizes = priors.SHARED * (1 + np.arange(len(task.birds))) + priors.SIZE
    precision[sizes] = (SIZE_TAIL + 1.0) / (SIZE_TAIL + z[sizes] ** 2)
    return precision


def fit(task: Problem) -> Posterior:
    """Where the posterior lies, by annealed, reweighted Gauss-Newton steps; the likelier
    of two places where some reading is doubted."""
    if not task.reading_c.size:
        z = np.zeros(task.dimension)
        local = near(task, z, whole=True)
        slope, precision = _bent(task, z, local, 0.0, task.wild)
        return Posterior(z, z, np.linalg.cholesky(precision), local, slope)
    start = near(task, np.zeros(task.dimension), whole=False)
    first, likely, doubted = _fitted(task, start, ANNEAL_C, task.wild)
    if not doubted:
        return first
    second, other, _ = _fitted(task, start, TRUSTING_C, np.full_like(task.wild, NEVER_WILD))
    return second if other > likely else first


def _fitted(
    task: Problem, start: Local, anneal_c: tuple[float, ...], at_first: Array
) -> tuple[Posterior, float, bool]:
    """A fit from the model near zero with the share of wild readings as it is `at_first`,
    the log density it reaches, and whether it doubts a reading."""
    z, local, wild = np.zeros(task.dimension), start, at_first
    for pass_, extra_c in enumerate(anneal_c[:-1], 2):
        move, _, _ = _step(task, z, local, extra_c, wild)
        z = z + move * min(1.0, LONGEST_MOVE / max(float(np.abs(move).max()), 1e-9))
        wild = task.wild
        local = near(task, z, whole=pass_ == len(anneal_c))
    move, slope, precision = _step(task, z, local, anneal_c[-1], wild)
    found = Posterior(z + move, move, np.linalg.cholesky(precision), local, slope)
    excess_c, miss_c = task.reading_c - local.core_c, np.exp(local.log_miss)
    each = probe.log_likelihood(excess_c, miss_c, task.sd_c, task.wild)
    doubted = bool((each < np.log(2.0 * task.wild / probe.WILD_SPAN_C)).any())
    return found, float(each.sum() - 0.5 * z @ z), doubted


def _step(
    task: Problem, z: Array, local: Local, extra_c: float, wild: Array
) -> tuple[Array, Slopes, Array]:
    """The Gauss-Newton step from z, with the slopes and the precision behind it."""
    slope, precision = _bent(task, z, local, extra_c, wild)
    pull = local.by_core.T @ slope.to_core + local.by_miss.T @ slope.to_log_miss
    return np.linalg.solve(precision, pull - prior_precision(task, z) * z), slope, precision


def _bent(
    task: Problem, z: Array, local: Local, extra_c: float, wild: Array
) -> tuple[Slopes, Array]:
    """The readings' slopes with `extra_c` added to their error, and the precision (D, D)."""
    sd = np.hypot(task.sd_c, extra_c)
    slope = probe.slopes(task.reading_c - local.core_c, np.exp(local.log_miss), sd, wild)
    precision = local.by_core.T @ (slope.core_curvature[:, None] * local.by_core)
    precision += local.by_miss.T @ (slope.miss_curvature[:, None] * local.by_miss)
    precision[np.diag_indices_from(precision)] += prior_precision(task, z)
    return slope, precision
