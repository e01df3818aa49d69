"""What finished cooks teach about this kitchen.

Each past cook says, through its readings, what its shared unknowns probably were.
The kitchen's own values are estimated from all of them by shrinkage: few cooks
move the world prior a little, many move it far. A cook unlike the others counts
less, so that one odd evening cannot wreck what was learned.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from assistant.heat import infer, priors
from assistant.heat.evidence import Evidence, Kitchen
from assistant.heat.properties import Array

TAIL = 4.0
FEATURES = 2.0  # about how many combinations of unknowns one cook tells of
ROUNDS = 20
FEWEST_READINGS = 1


@dataclass(frozen=True, slots=True, eq=False)
class Lesson:
    """What one cook says of the kitchen's shifts: precision (S, S) and precision x mean."""

    precision: Array
    weighted: Array


def learn(cooks: Sequence[Evidence]) -> Kitchen:
    """The kitchen after these finished cooks; the world prior if none has readings."""
    lessons = [
        lesson(cook) for cook in cooks
        if sum(len(bird.readings) for bird in cook.birds if bird.on_heat) >= FEWEST_READINGS
    ]  # fmt: skip
    if not lessons:
        return Kitchen()
    world = np.diag([unknown.kitchen**-2 for unknown in priors.UNKNOWNS])
    trust = np.ones(len(lessons))
    for _ in range(ROUNDS):
        precision = world + sum(w * one.precision for w, one in zip(trust, lessons, strict=True))
        weighted = sum(w * one.weighted for w, one in zip(trust, lessons, strict=True))
        mean = np.linalg.solve(precision, weighted)
        trust = np.array([_trust(one, mean) for one in lessons])
    cov = np.linalg.inv(precision)
    sd = np.sqrt(np.diag(cov))
    ties = cov / np.outer(sd, sd)
    return Kitchen(
        cooks=len(lessons),
        shift=tuple(
            (name, float(m), float(s)) for name, m, s in zip(priors.NAMES, mean, sd, strict=True)
        ),
        ties=tuple(tuple(float(value) for value in row) for row in ties),
    )


def lesson(cook: Evidence) -> Lesson:
    """What one cook's readings say, freed of the prior it was read with."""
    now_s = max(reading.at_s for bird in cook.birds for reading in bird.readings)
    task = infer.problem(replace(cook, kitchen=Kitchen()), now_s, 0.0)
    posterior = infer.fit(task)
    shared = slice(0, priors.SHARED)
    block = posterior.factor @ posterior.factor.T
    root = task.shared_factor
    cov = root @ block[shared, shared] @ root.T
    value = root @ posterior.mean[shared]
    after = np.linalg.inv(cov)
    told = _positive(after - np.linalg.inv(root @ root.T))
    of_cook = np.diag([unknown.cook**2 for unknown in priors.UNKNOWNS])
    through = np.linalg.inv(np.eye(priors.SHARED) + told @ of_cook)
    return Lesson(precision=through @ told, weighted=through @ (after @ value))


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
