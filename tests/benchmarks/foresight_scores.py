"""Scoring: one forecast is 99 quantiles of the minutes still to go."""

import itertools
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import scoringrules
from numpy.typing import NDArray
from scipy.stats import norm

from assistant.heat.bird.ensemble import ensemble, weighted_quantiles
from assistant.heat.bird.evidence import Evidence

Array = NDArray[np.floating]
LEVELS = np.arange(1, 100) / 100.0
BINS = ((0.0, 30.0), (30.0, 60.0), (60.0, 600.0))
NEVER_S = 9 * 3600.0
RELIABLE = 12  # fewest residuals to learn a spread from


@dataclass(frozen=True)
class Case:
    """One reading of one bird: what was foretold by each method, and what came true."""

    cook: int
    mark: str
    to_go: float  # minutes, the truth
    points: dict[str, float]  # minutes to go by rule
    ours: Array  # quantiles (99,)
    number: int = 0  # of the bird's readings so far


@dataclass(frozen=True)
class Score:
    """Means over cases; minutes."""

    interval: float
    crps: float
    median: float
    p90: float
    bias: float
    late_median: float  # median error inside the last 30 minutes
    coverage: dict[int, float]
    pit: tuple[int, ...]
    n: int


def quantiles_min(evidence: Evidence, now_s: float, index: int, mark: str) -> Array:
    """Our 99 quantiles of the minutes to go until a bird's mark."""
    cloud = ensemble(evidence, now_s)
    times = cloud.done_s[index] if mark == "done" else cloud.sauce_s[index]
    times = np.where(np.isnan(times), now_s + NEVER_S, times)
    found = weighted_quantiles(times, cloud.weight[index], tuple(LEVELS))
    return np.maximum((np.array(found) - now_s) / 60.0, 0.0)


def spread(points: Array, truth: Array, at: Array) -> Array:
    """Standard deviation a point forecast deserves, by its own minutes to go: learned
    from (points, truth) of the looked-at split, evaluated for the points `at`."""
    groups = max(1, min(5, points.size // (2 * RELIABLE)))
    edges = np.unique(np.quantile(points, np.linspace(0, 1, groups + 1)))
    middle, sd = [], []
    for low, high in itertools.pairwise(edges):
        inside = (points >= low) & (points <= high)
        if inside.sum() >= RELIABLE:
            middle.append(float(points[inside].mean()))
            miss = np.abs(points[inside] - truth[inside])
            sd.append(max(float(np.quantile(miss, 0.8)) / 1.2816, 0.3))
    return np.interp(at, middle, sd)


def normal_quantiles(points: Array, sd: Array) -> Array:
    """Quantiles (n, 99) of normals, none before now."""
    return np.maximum(points[:, None] + sd[:, None] * norm.ppf(LEVELS)[None, :], 0.0)


def score(quantiles: Array, truth: Array) -> Score:
    """Score quantiles (n, 99) against the truth (n,), minutes."""
    q = {level: quantiles[:, level - 1] for level in (10, 25, 50, 75, 90)}
    error = np.abs(q[50] - truth)
    interval = scoringrules.interval_score(truth, q[10], q[90], 0.2)
    crps = scoringrules.crps_ensemble(truth, quantiles)
    low95, high95 = (0.5 * (quantiles[:, k] + quantiles[:, k + 1]) for k in (1, 96))
    coverage = {
        level: (truth >= low) & (truth <= high)
        for level, low, high in ((50, q[25], q[75]), (80, q[10], q[90]), (95, low95, high95))
    }
    pit = (quantiles < truth[:, None]).mean(axis=1)
    late = truth <= BINS[0][1]
    return Score(
        interval=float(np.mean(interval)), crps=float(np.mean(crps)),
        median=float(np.median(error)), p90=float(np.quantile(error, 0.9)),
        bias=float(np.mean(q[50] - truth)),
        late_median=float(np.median(error[late])) if late.any() else float("nan"),
        coverage={level: float(np.mean(hit)) for level, hit in coverage.items()},
        pit=tuple(int(v) for v in np.histogram(pit, bins=10, range=(0, 1))[0]),
        n=truth.size,
    )  # fmt: skip


def by_time_to_go(quantiles: Array, truth: Array) -> list[tuple[float, float, int]]:
    """Median and 90th percentile error and number, for each bin of `BINS`."""
    error = np.abs(quantiles[:, 49] - truth)
    rows = []
    for low, high in BINS:
        inside = (truth > low) & (truth <= high)
        rows.append(
            (float(np.median(error[inside])), float(np.quantile(error[inside], 0.9)),
             int(inside.sum()))
            if inside.any() else (float("nan"), float("nan"), 0)
        )  # fmt: skip
    return rows


def by_cook(cases: Sequence[Case], hit: Array) -> tuple[float, float]:
    """95 % interval of a share over cases (n,), its cooks drawn again and again: the
    readings of one cook go together."""
    cook = np.array([case.cook for case in cases])
    _, place = np.unique(cook, return_inverse=True)
    held, all_of = np.bincount(place, hit), np.bincount(place)
    drawn = np.random.default_rng(1).integers(0, held.size, (2000, held.size))
    shares = held[drawn].sum(axis=1) / all_of[drawn].sum(axis=1)
    low, high = np.quantile(shares, (0.025, 0.975))
    return float(low), float(high)


def stacked(cases: Sequence[Case]) -> tuple[Array, Array]:
    """Quantiles (n, 99) of ours and the truth (n,)."""
    return np.stack([case.ours for case in cases]), np.array([case.to_go for case in cases])
