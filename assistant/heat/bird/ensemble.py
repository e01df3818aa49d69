"""The ensemble: weighted particles carried from the first bird on to the last one done."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.heat.bird import infer, priors
from assistant.heat.bird.evidence import BirdEvidence, Evidence
from assistant.heat.bird.infer import Problem
from assistant.heat.bird.properties import Array
from assistant.heat.bird.roast import Timeline, Tracks, is_pulled, roast, single_precision, timeline
from assistant.heat.bird.skin import Skin

PARTICLES = 300
LONGEST_ROAST_S = 8 * 3600.0
SHORTEST_HORIZON_S = 7200.0
LONGEST_ON_S = 3 * 3600.0  # how far a particle is carried on beyond the march
UNSEEN_S = 360.0  # mean time from the sauce mark until a look finds it
REACHED_SHARE = 0.97  # of the particles: far enough for every quantile that is told


@dataclass(frozen=True, slots=True, eq=False)
class Ensemble:
    """Weighted particles: crossing times (birds, particles), nan where never. `told`: the
    birds as recorded; `task.birds` have their spans carried into the future."""

    task: Problem
    told: tuple[BirdEvidence, ...]
    tracks: Tracks
    offset: Array
    weight: Array
    sauce_s: Array
    done_s: Array
    features: dict[str, Array]


@lru_cache(maxsize=2)
def ensemble(evidence: Evidence, now_s: float, seed: int = 0) -> Ensemble:
    """The particles behind a forecast."""
    task = infer.problem(evidence, now_s, _horizon_s(evidence, now_s))
    posterior = infer.fit(task)
    z = infer.draw(task, posterior, PARTICLES, seed)
    shared, own, path_z = infer.split(task, z)
    bodies = single_precision(infer.bodies(task, shared, own))
    line = timeline(bodies, task.start_s, now_s, task.end_s)
    fire_c = infer.fire(task, path_z, line).astype(np.float32)
    watch = _Saucing(task, line, bodies.length_m.shape, seed)
    tracks = roast(evidence, task.birds, line, bodies, fire_c, watch)
    weight = infer.weigh(task, posterior, z, tracks, bodies.offset)
    marks = np.array([[bird.sauce_mark_c, bird.done_mark_c] for bird in task.birds])
    sauce_s, done_s = (_crossing_s(tracks, marks[:, column]) for column in (0, 1))
    now = line.now
    features = {
        "grill": np.stack([fire_c[: max(now, 1)].mean(axis=0), fire_c[now:].mean(axis=0)]),
        **{name: np.concatenate([shared[j : j + 1], own[j]]) for j, name in
           enumerate(priors.NAMES)},
    }  # fmt: skip
    return Ensemble(task, evidence.birds, tracks, bodies.offset, weight, sauce_s, done_s, features)


class _Saucing:
    """Takes each particle's bird off for its planned saucing, and sees when all are done.

    Between the mark and the saucing lies the time until somebody looks.
    """

    def __init__(self, task: Problem, line: Timeline, shape: tuple[int, ...], seed: int) -> None:
        self.line = line
        planned_s = np.array(task.off_planned_s)[:, None]
        self.planned = bool(planned_s.any())
        self.left_s: Array = np.broadcast_to(planned_s, shape).copy()
        rng = np.random.default_rng(seed + 1)
        self.unseen_s: Array = rng.exponential(UNSEEN_S, shape)
        self.sauce_c = np.array([bird.sauce_mark_c for bird in task.birds])[:, None]
        self.done_c = np.array([bird.done_mark_c for bird in task.birds])[:, None]
        self.waited = np.array([not is_pulled(bird) for bird in task.birds])

    def __call__(self, step: int, core_c: Array, skin: Skin) -> bool:
        if step < self.line.now:
            return False
        if self.planned:
            room_s = self.line.dt_s * (core_c >= self.sauce_c)
            unseen = np.minimum(self.unseen_s, room_s)
            self.unseen_s -= unseen
            leaving = np.minimum(self.left_s, room_s - unseen)
            self.left_s -= leaving
            away = (leaving / self.line.dt_s).astype(core_c.dtype)
            skin.away = away if away.any() else None
        if step % 8 or step == self.line.now:
            return False
        reached = (core_c >= self.done_c).mean(axis=1)
        return bool((reached[self.waited] >= REACHED_SHARE).all())


def _horizon_s(evidence: Evidence, now_s: float) -> float:
    """Long enough for the slowest likely bird."""
    longest = max(priors.median_length_m(bird) for bird in evidence.birds)
    begun = [bird.on_heat[0].start_s if bird.on_heat else now_s for bird in evidence.birds]
    roast_s = min(3.0 * 7200.0 * (longest / 0.0625) ** 2, LONGEST_ROAST_S)
    return max(roast_s - (now_s - max(begun)), SHORTEST_HORIZON_S)


def _crossing_s(tracks: Tracks, mark_c: Array) -> Array:
    """First times the coldest spots reach their marks (birds, particles); nan: never.

    A particle still short of its mark when the march ended is carried on along its
    last slope, if it was still on its way.
    """
    core, at_s = tracks.core_c, tracks.at_s
    mark = mark_c[:, None]
    above = core >= mark
    first = above.argmax(axis=0)
    before = np.maximum(first - 1, 0)
    high = np.take_along_axis(core, first[None], axis=0)[0]
    low = np.take_along_axis(core, before[None], axis=0)[0]
    part = np.where(high > low, (mark - low) / np.where(high > low, high - low, 1.0), 1.0)
    crossing = at_s[before] + np.clip(part, 0.0, 1.0) * (at_s[first] - at_s[before])
    slope = (core[-1] - core[-2]) / (at_s[-1] - at_s[-2])
    to_go_s = (mark - core[-1]) / np.maximum(slope, 1e-9)
    later = np.where(to_go_s < LONGEST_ON_S, at_s[-1] + to_go_s, np.nan)
    return np.where(above.any(axis=0), crossing, later)


def weighted_quantiles(values: Array, weight: Array, levels: tuple[float, ...]) -> list[float]:
    """Quantiles of weighted values; those that fall among nans are nan."""
    order = np.argsort(values)  # nans last
    total = np.cumsum(weight[order]) - 0.5 * weight[order]
    ranked = values[order]
    finite = np.isfinite(ranked)
    if not finite.any():
        return [float("nan")] * len(levels)
    reached = float(weight[np.isfinite(values)].sum())
    return [
        float(np.interp(level, total[finite], ranked[finite])) if level <= reached else float("nan")
        for level in levels
    ]


def core_at(cloud: Ensemble, index: int, at_s: float) -> Array:
    """The coldest spot of one bird at a time (particles,)."""
    return at_time(cloud.tracks.at_s, cloud.tracks.core_c[:, index], at_s)


def at_time(times_s: Array, values: Array, at_s: float) -> Array:
    """Interpolate values (times, ...) at one time, level outside."""
    place = float(np.clip((at_s - times_s[0]) / (times_s[1] - times_s[0]), 0, times_s.size - 1))
    left = min(int(place), times_s.size - 2)
    mixed: Array = (1 - place + left) * values[left] + (place - left) * values[left + 1]
    return mixed
