"""What finished cooks teach about this kitchen.

Each past cook says, through its readings, what its shared unknowns probably were.
The kitchen's own values are estimated from all of them by shrinkage: few cooks
move the world prior a little, many move it far. A cook unlike the others counts
less, so that one odd evening cannot wreck what was learned.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from scipy.linalg import solve_triangular

from assistant.heat.bird import air, infer, priors
from assistant.heat.bird.ensemble import ensemble, weighted_quantiles
from assistant.heat.bird.evidence import (
    BirdEvidence,
    Evidence,
    HeatKind,
    Kitchen,
    Shift,
    Ties,
)  # fmt: skip
from assistant.heat.bird.properties import Array
from assistant.heat.bird.sources import SOURCES

TAIL = 4.0
FEATURES = 2.0  # about how many combinations of unknowns one cook tells of
ROUNDS = 20
FEWEST_READINGS = 1
WORLD_COOKS = 1.5  # how many cooks the world's scatter weighs
SCATTER_ROUNDS = 2
LEAST_SCATTER, MOST_SCATTER = 0.3, 2.0
ODDEST = 3.0  # standard deviations beyond which a surprise counts no more
HEATS_DIFFER = 0.3  # of the variance between kitchens: what one kind of heat has for itself
GRILL_BETWEEN_C = 12.0  # where cooks hold the grill, beside the middle of their band


@dataclass(frozen=True, slots=True, eq=False)
class Lesson:
    """What one cook says of the kitchen's shifts: precision (S, S) and precision x mean;
    the roast times its readings tell of (birds,), and its grill's mean (nan: unread)."""

    precision: Array
    weighted: Array
    done_s: Array
    grill_c: float


def learn(cooks: Sequence[Evidence]) -> Kitchen:
    """The kitchen after these finished cooks; the world prior if none has readings."""
    told = [
        cook for cook in cooks
        if sum(len(bird.readings) for bird in cook.birds if bird.on_heat) >= FEWEST_READINGS
    ]  # fmt: skip
    lessons = [lesson(cook) for cook in told]
    if not lessons:
        return Kitchen()
    heats: tuple[HeatKind, ...] = tuple(SOURCES)
    places = [heats.index(cook.heat) for cook in told]
    trust = np.ones(len(lessons))
    for _ in range(ROUNDS):
        means, covs = _pooled(lessons, places, trust, heats)
        trust = np.array(
            [_trust(one, means[place]) for one, place in zip(lessons, places, strict=True)]
        )
    shift_c, sd_c = _grill(np.array([one.grill_c for one in lessons]))
    learned = [_written(mean, cov) for mean, cov in zip(means, covs, strict=True)]
    kitchen = Kitchen(
        cooks=len(lessons),
        shift=learned[0][0],
        ties=learned[0][1],
        grill_shift_c=shift_c,
        grill_sd_c=sd_c,
        elsewhere=tuple((heat, *one) for heat, one in zip(heats[1:], learned[1:], strict=True)),
    )
    for _ in range(SCATTER_ROUNDS):  # not all of a forecast's width scales: look twice
        scatter = kitchen.scatter * _scatter(kitchen, told, lessons)
        kitchen = replace(kitchen, scatter=min(max(scatter, LEAST_SCATTER), MOST_SCATTER))
    return kitchen


def _pooled(
    lessons: Sequence[Lesson], places: Sequence[int], trust: Array, heats: tuple[HeatKind, ...]
) -> tuple[Array, Array]:
    """Means (H, S) and covariances (H, S, S) of this kitchen's shifts over each heat.

    A shift is the kitchen's own, the same over every heat, and a part of that heat.
    """
    count, kinds = priors.SHARED, len(heats)
    prior = np.zeros(((1 + kinds) * count,) * 2)
    for place, heat in enumerate(heats):
        world = priors.between_kitchens(heat)
        mine = slice((1 + place) * count, (2 + place) * count)
        prior[mine, mine] = HEATS_DIFFER * world
        if place == 0:
            prior[:count, :count] = (1.0 - HEATS_DIFFER) * world
    onto = np.zeros((kinds, count, prior.shape[0]))
    precision, weighted = np.linalg.inv(prior), np.zeros(prior.shape[0])
    for place in range(kinds):
        onto[place, :, :count] = np.eye(count)
        onto[place, :, (1 + place) * count : (2 + place) * count] = np.eye(count)
    for one, place, trusted in zip(lessons, places, trust, strict=True):
        precision += trusted * onto[place].T @ one.precision @ onto[place]
        weighted += trusted * onto[place].T @ one.weighted
    cov = np.linalg.inv(precision)
    return onto @ (cov @ weighted), onto @ cov @ onto.transpose(0, 2, 1)


def _written(mean: Array, cov: Array) -> tuple[Shift, Ties]:
    """Shifts and their correlations as a kitchen keeps them."""
    sd = np.sqrt(np.diag(cov))
    shift = tuple(
        (name, float(m), float(s)) for name, m, s in zip(priors.NAMES, mean, sd, strict=True)
    )
    ties = cov / np.outer(sd, sd)
    return shift, tuple(tuple(float(value) for value in row) for row in ties)


def _grill(means_c: Array) -> tuple[float, float]:
    """Shift of the grill from the middle of its band and its scatter, shrunk; C."""
    known = means_c[np.isfinite(means_c)]
    usual = air.LEVEL_SD_C
    shift = float(known.sum() / (known.size + (usual / GRILL_BETWEEN_C) ** 2))
    off = np.square(np.clip(known - shift, -ODDEST * usual, ODDEST * usual))
    variance = (WORLD_COOKS * usual**2 + off.sum()) / (WORLD_COOKS + known.size)
    return shift, float(np.sqrt(variance))


def _scatter(kitchen: Kitchen, cooks: Sequence[Evidence], lessons: Sequence[Lesson]) -> float:
    """How the first forecasts' surprises compare with what they allowed for."""
    surprises = [
        _surprise(replace(cook, kitchen=kitchen), one)
        for cook, one in zip(cooks, lessons, strict=True)
    ]
    total = WORLD_COOKS + sum(min(square, ODDEST**2) for square in surprises)
    return float(np.sqrt(total / (WORLD_COOKS + len(surprises))))


def _surprise(cook: Evidence, one: Lesson) -> float:
    """Mean squared standard score of a cook's roast times, by its first forecast."""
    squares = []
    for bird, done_s in zip(_roasted(cook), one.done_s, strict=True):
        first = replace(bird, on_heat=(), readings=())
        cloud = ensemble(replace(cook, birds=(first,), grill=(), lid_open=()), 0.0)
        known = np.isfinite(cloud.done_s[0])
        foretold, weight = np.log(cloud.done_s[0][known]), cloud.weight[0][known]
        mean = np.average(foretold, weights=weight)
        variance = np.average(np.square(foretold - mean), weights=weight)
        if np.isfinite(done_s) and done_s > 0:
            squares.append(float((np.log(done_s) - mean) ** 2 / variance))
    return float(np.mean(squares)) if squares else 1.0


def _roasted(cook: Evidence) -> list[BirdEvidence]:
    return [bird for bird in cook.birds if bird.on_heat]


def lesson(cook: Evidence) -> Lesson:
    """What one cook's readings say, freed of the prior it was read with."""
    now_s = max(reading.at_s for bird in cook.birds for reading in bird.readings)
    cook = replace(cook, kitchen=Kitchen(), birds=tuple(_roasted(cook)))
    task = infer.problem(cook, now_s)
    posterior = infer.fit(task)
    shared = slice(0, priors.SHARED)
    root = task.shared_factor
    half = solve_triangular(posterior.lower, np.eye(task.dimension)[:, shared], lower=True)
    cov = root @ (half.T @ half) @ root.T
    value = root @ posterior.mean[shared]
    after = np.linalg.inv(cov)
    told = _positive(after - np.linalg.inv(root @ root.T))
    of_cook = np.diag([unknown.cook**2 for unknown in priors.UNKNOWNS])
    through = np.linalg.inv(np.eye(priors.SHARED) + told @ of_cook)
    return Lesson(
        precision=through @ told, weighted=through @ (after @ value),
        done_s=_roast_times_s(cook, now_s), grill_c=_grill_offset_c(cook, now_s),
    )  # fmt: skip


def _roast_times_s(cook: Evidence, now_s: float) -> Array:
    """Time from going on to the done mark, as the readings leave it (birds,)."""
    cloud = ensemble(cook, now_s)
    times = [
        weighted_quantiles(done_s, weight, (0.5,))[0]
        for done_s, weight in zip(cloud.done_s, cloud.weight, strict=True)
    ]
    took_s: Array = np.array(times) - np.array([one.on_heat[0].start_s for one in cook.birds])
    return took_s


def _grill_offset_c(cook: Evidence, now_s: float) -> float:
    """Mean of the grill's readings from the middle of its band; nan if there are none."""
    since_s = min(bird.on_heat[0].start_s for bird in cook.birds)
    read = [one.temperature_c for one in cook.grill if since_s <= one.at_s <= now_s]
    return float(np.median(read)) - 0.5 * sum(cook.band_c) if read else float("nan")


def _positive(matrix: Array) -> Array:
    """The nearest positive semidefinite matrix."""
    symmetric = 0.5 * (matrix + matrix.T)
    values, vectors = np.linalg.eigh(symmetric)
    kept: Array = (vectors * np.maximum(values, 0.0)) @ vectors.T
    return kept


def _trust(one: Lesson, mean: Array) -> float:
    """Weight in (0, 1] of a cook, small where it lies far from the others."""
    miss = one.weighted - one.precision @ mean
    distance = float(miss @ np.linalg.pinv(one.precision, hermitian=False) @ miss)
    return min(1.0, (TAIL + FEATURES) / (TAIL + max(distance, 0.0)))
