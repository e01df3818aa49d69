"""The grill's temperature between spoken readings, as a stochastic path.

A Gaussian process on knots: a slow wandering of the level (the fire sags and is
brought back), a quicker one, and fresh wandering after fuel was added. Spoken
readings are rounded and late; their errors are heavy-tailed, so that one slip of
the tongue does not move the path. Open lids are dips on top of it.
"""

from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from assistant.heat.bird.evidence import AirReading, BirdEvidence, Evidence, Span
from assistant.heat.bird.properties import Array

LEVEL_SD_C, LEVEL_TIME_S = 24.0, 4 * 3600.0
WANDER_SD_C, WANDER_TIME_S = 12.0, 2400.0
FUEL_SD_C, FUEL_TIME_S = 8.0, 900.0
READING_SD_C = 4.0
TAIL = 4.0  # degrees of freedom of the reading's error
DIPPED_SD_C = 15.0  # of a reading while the air recovers from an open lid
DIPPED_FOR_S = 180.0
SETTLING_S = 1800.0  # readings longer before the first bird tell of another fire
LID_DEPTH, LID_FALL_S, LID_RECOVER_S = 0.5, 40.0, 150.0
LOOK_S = 45.0  # the lid is open this long for a reading nobody announced
ASSUMED_AT_S = tuple(600.0 + 1200.0 * k for k in range(15))  # readings of a supposed future
FUTURE_LOOKS = 0.06  # mean loss to looks that are still to come, one in a quarter of an hour


@dataclass(frozen=True, slots=True, eq=False)
class Path:
    """Mean (K,) and lower triangular factor (K, K) of the temperature at `knots_s`."""

    knots_s: Array
    mean_c: Array
    factor: Array


def knots(start_s: float, now_s: float, end_s: float, most_past: int = 12) -> Array:
    """Times to carry the path on, evenly spaced, at most `most_past` of them before now."""
    spacing = max(480.0, (now_s - start_s) / most_past)
    count = int(np.ceil((end_s - start_s) / spacing)) + 1
    return start_s + spacing * np.arange(max(count, 2))


def covariance(evidence: Evidence, first_s: Array, second_s: Array) -> Array:
    """Prior covariance of the path between two sets of times."""
    lag = np.abs(first_s[:, None] - second_s[None, :])
    level_sd_c = evidence.kitchen.grill_sd_c or LEVEL_SD_C
    total = level_sd_c**2 * np.exp(-lag / LEVEL_TIME_S)
    total += WANDER_SD_C**2 * np.exp(-lag / WANDER_TIME_S)
    for fuel_s in evidence.fuel_added_s:
        grown = [1.0 - np.exp(-np.maximum(t - fuel_s, 0.0) / FUEL_TIME_S) for t in
                 (first_s, second_s)]  # fmt: skip
        total += FUEL_SD_C**2 * np.outer(*grown) * np.exp(-lag / LEVEL_TIME_S)
    return total


def usable_readings(evidence: Evidence) -> tuple[Array, Array, Array]:
    """Times, temperatures and error sizes of the grill readings that tell of this fire."""
    begun = [bird.on_heat[0].start_s for bird in evidence.birds if bird.on_heat]
    since = min(begun) - SETTLING_S if begun else -np.inf
    kept = [reading for reading in evidence.grill if reading.at_s >= since]
    at_s = np.array([reading.at_s for reading in kept])
    read_c = np.array([reading.temperature_c for reading in kept])
    sd = np.full(at_s.shape, READING_SD_C)
    for lid in evidence.lid_open:
        end_s = np.inf if lid.end_s is None else lid.end_s + DIPPED_FOR_S
        sd[(at_s >= lid.start_s) & (at_s <= end_s)] = DIPPED_SD_C
    return at_s, read_c, sd


def path(evidence: Evidence, knots_s: Array) -> Path:
    """The path given the grill readings, robust to single wild ones."""
    mean = np.full(knots_s.shape, 0.5 * sum(evidence.band_c) + evidence.kitchen.grill_shift_c)
    cov = covariance(evidence, knots_s, knots_s)
    at_s, read_c, sd = usable_readings(evidence)
    if at_s.size:
        cross = covariance(evidence, knots_s, at_s)
        inner = covariance(evidence, at_s, at_s)
        residual = read_c - mean[0]
        weight = np.ones(at_s.shape)
        for _ in range(8):
            noisy = inner + np.diag(sd**2 / weight)
            solved = np.linalg.solve(noisy, residual)
            error = (sd**2 / weight) * solved / sd
            weight = (TAIL + 1.0) / (TAIL + error**2)
        noisy = inner + np.diag(sd**2 / weight)
        mean = mean + cross @ np.linalg.solve(noisy, residual)
        cov = cov - cross @ np.linalg.solve(noisy, cross.T)
    factor = np.linalg.cholesky(cov + 0.25 * np.eye(knots_s.size))
    return Path(knots_s, mean, factor)


def interpolation(knots_s: Array, at_s: Array) -> Array:
    """Matrix (times, K) that interpolates knot values linearly, level outside."""
    spacing = knots_s[1] - knots_s[0]
    place = np.clip((at_s - knots_s[0]) / spacing, 0.0, knots_s.size - 1.0)
    left = np.minimum(place.astype(int), knots_s.size - 2)
    matrix = np.zeros((at_s.size, knots_s.size))
    rows = np.arange(at_s.size)
    matrix[rows, left] = 1.0 - (place - left)
    matrix[rows, left + 1] = place - left
    return matrix


@lru_cache(maxsize=8)
def openings(evidence: Evidence, now_s: float) -> tuple[Span, ...]:
    """When the lid was open: as told, and for a moment at each reading over the fire."""
    told = list(evidence.lid_open)
    looks: list[Span] = []
    for bird in evidence.birds:
        for reading in bird.readings:
            span = Span(reading.at_s - LOOK_S, reading.at_s)
            if is_on(bird, reading.at_s) and not any(_overlaps(span, one) for one in told + looks):
                looks.append(span)
    return tuple(
        Span(one.start_s, now_s if one.end_s is None else one.end_s) for one in told + looks
    )


def is_on(bird: BirdEvidence, at_s: float) -> bool:
    """Whether a bird was over the fire at a time."""
    return any(
        span.start_s <= at_s and (span.end_s is None or at_s < span.end_s) for span in bird.on_heat
    )


def _overlaps(one: Span, other: Span) -> bool:
    end_s = np.inf if other.end_s is None else other.end_s
    one_end = np.inf if one.end_s is None else one.end_s
    return one.start_s <= end_s and other.start_s <= one_end


def dips(
    evidence: Evidence, now_s: float, start_s: float, dt_s: float, steps: int, looks_from_s: float
) -> Array:
    """Share of the warmth above the outside air that is missing, by step (steps,).

    After now, and not before `looks_from_s`, looks are expected.
    """
    fine = 4
    at_s = start_s + dt_s / fine * (np.arange(steps * fine) + 0.5)
    missing = np.zeros(at_s.shape)
    for span in openings(evidence, now_s):
        end_s = span.end_s if span.end_s is not None else now_s
        fallen = LID_DEPTH * (1.0 - np.exp(-(np.clip(at_s, span.start_s, end_s) - span.start_s)
                                           / LID_FALL_S))  # fmt: skip
        since = np.maximum(at_s - end_s, 0.0)
        missing = np.maximum(missing, fallen * np.exp(-since / LID_RECOVER_S))
    to_come = (at_s > now_s) & (at_s > looks_from_s)
    missing[to_come] = np.maximum(missing[to_come], FUTURE_LOOKS)
    averaged: Array = missing.reshape(steps, fine).mean(axis=1)
    return averaged


def assume(evidence: Evidence, now_s: float, air_c: float) -> Evidence:
    """Evidence under which the grill runs at `air_c` from now on, as if it were read."""
    told = tuple(AirReading(now_s + after_s, air_c) for after_s in ASSUMED_AT_S)
    return replace(evidence, grill=(*evidence.grill, *told))
