"""The forward model: birds turning in the grill, for many guesses of their unknowns.

A site of a bird (breast or thigh) is a body of a few exponential modes (`modes`). What
it feels is the air less what an open lid lost, the coals it sees directly, and the pull
of its wet skin. Its clock runs as a power of the time over the fire, one plus `drift`:
with every other unknown fitted to a reading, all ways from there to done are nearly the
same one, and what the model has wrong is seldom so kind. Time steps are even.
"""

from dataclasses import dataclass, replace

import numpy as np

from assistant.heat.bird import air, priors
from assistant.heat.bird.evidence import BirdEvidence, Evidence, Site, Span
from assistant.heat.bird.modes import modes
from assistant.heat.bird.properties import Array, lean_chicken
from assistant.heat.bird.sources import SHADED, SOURCES

MEAN_MEAT_C = 45.0  # for the conductivity, which rises by a tenth over a roast
SMALLEST_SIZE = 0.6  # of the median length
STEPS_A_ROAST = 36.0
SHORTEST_STEP_S, LONGEST_STEP_S = 60.0, 300.0
MOST_PAST = 80  # steps until now
WET_SKIN_C = 65.0
DRYING_S = 2400.0  # until the freely wet part of a skin has fallen to 1/e
MOST_PULL, MOST_LOST = 0.8, 0.95  # of the rise, by a wet skin and by an open lid
DRIFT_LIMITS = (-1.5, 0.7)  # log of time over the typical roast
SLOWEST_DRIFT = -0.6
PULLED_WITHIN_C = 1.0
BACK_WITHIN_S = 60.0
FIRST_LOOK_SHARE = 0.45  # of the roast, before anybody opens the lid to look
AIMED_AT_M = priors.LENGTH_OF_SPHERE * priors.sphere_radius_m(2.2)  # a hand misses by mm
SIX_POUNDS_M, SIX_POUNDS_S = priors.LENGTH_OF_SPHERE * priors.sphere_radius_m(2.72), 5400.0


@dataclass(frozen=True, slots=True)
class Row:
    """One site of one bird (its place in the evidence)."""

    bird: int
    site: Site


@dataclass(frozen=True, slots=True)
class Timeline:
    """Steps of `dt_s` from `start_s`; `now` is the first step at or after the present."""

    start_s: float
    dt_s: float
    steps: int
    now: int

    def at_s(self) -> Array:
        """Times of the step boundaries, (steps + 1,)."""
        return self.start_s + self.dt_s * np.arange(self.steps + 1)


@dataclass(frozen=True, slots=True, eq=False)
class Stage:
    """What is the same for every guess: shares over the fire and off it, the lid's dips,
    the wet pull's course and log time (steps, rows), and the coals each row sees."""

    line: Timeline
    rows: tuple[Row, ...]
    on: Array
    off: Array
    missing: Array  # (steps,)
    wetness: Array
    log_time: Array
    radiant: Array  # (rows,)
    outside_c: float

    def until(self, steps: int) -> "Stage":
        """The first steps only."""
        return replace(
            self, on=self.on[:steps], off=self.off[:steps], missing=self.missing[:steps],
            wetness=self.wetness[:steps], log_time=self.log_time[:steps],
        )  # fmt: skip


@dataclass(frozen=True, slots=True, eq=False)
class Bodies:
    """Physical unknowns, (rows, p): rates (KEPT, rows, p) in 1/s, weights, kelvin."""

    rate: Array
    centre: Array
    probed: Array
    start_c: Array
    wet: Array
    dial: Array
    lid: Array
    drift: Array
    offset: Array


def settled(bird: BirdEvidence, now_s: float, planned_off_s: float) -> tuple[BirdEvidence, float]:
    """A bird with its spans carried into the future, and the saucing still to come.

    A bird not put on yet goes on now; one that is off comes back when its saucing
    is over, unless it was pulled because it read its done mark.
    """
    planned = planned_off_s if bird.planned_off_s is None else bird.planned_off_s
    spans = tuple(span for span in bird.on_heat if span.start_s <= now_s)
    if not spans:
        return replace(bird, on_heat=(Span(now_s),)), planned
    last = spans[-1].end_s
    if last is not None and last <= now_s:
        if not is_pulled(bird):
            back_s = max(now_s + BACK_WITHIN_S, last + planned)
            return replace(bird, on_heat=(*spans, Span(back_s))), 0.0
        return replace(bird, on_heat=spans), 0.0
    return replace(bird, on_heat=spans), planned if len(spans) == 1 else 0.0


def is_pulled(bird: BirdEvidence) -> bool:
    """Off the heat with a last reading at its done mark."""
    off = bool(bird.on_heat) and bird.on_heat[-1].end_s is not None
    done = bool(bird.readings) and (
        bird.readings[-1].temperature_c >= bird.done_mark_c - PULLED_WITHIN_C
    )
    return off and done


def typical_roast_s(bird: BirdEvidence) -> float:
    """About how long a bird like this takes."""
    return float(SIX_POUNDS_S * (priors.median_length_m(bird) / SIX_POUNDS_M) ** 2)


def timeline(
    birds: tuple[BirdEvidence, ...], start_s: float, now_s: float, end_s: float
) -> Timeline:
    """Even steps from the first bird on to `end_s`, short enough for the smallest bird."""
    quickest_s = min(typical_roast_s(bird) for bird in birds)
    dt_s = float(np.clip(quickest_s / STEPS_A_ROAST, SHORTEST_STEP_S, LONGEST_STEP_S))
    dt_s = max(dt_s, (now_s - start_s) / MOST_PAST)
    steps = max(int(np.ceil((end_s - start_s) / dt_s)), 2)
    return Timeline(start_s, dt_s, steps, int(np.ceil((now_s - start_s) / dt_s)))


def stage(
    evidence: Evidence, birds: tuple[BirdEvidence, ...], rows: tuple[Row, ...], line: Timeline,
    now_s: float,
) -> Stage:  # fmt: skip
    """Lay out an evening on `line` for settled birds."""
    on, off = _shares(birds, line)
    source = SOURCES[evidence.heat]
    middle_s = line.at_s()[:-1] + 0.5 * line.dt_s
    since_s = np.stack(
        [np.maximum(middle_s - bird.on_heat[0].start_s, 0.0) for bird in birds], axis=1
    )
    typical_s = np.array([typical_roast_s(bird) for bird in birds])
    log_time = np.log((since_s + 60.0) / typical_s)
    over_s = np.cumsum(on, axis=0) * line.dt_s
    wetness = source.basted + (1.0 - source.basted) * np.exp(-over_s / DRYING_S)
    looks_from_s = line.start_s + FIRST_LOOK_SHARE * float(typical_s.max())
    missing = air.dips(evidence, now_s, line.start_s, line.dt_s, line.steps, looks_from_s)
    shade = np.array([_neighbours(birds, index) for index in range(len(birds))])
    of = [row.bird for row in rows]
    return Stage(
        line=line, rows=rows, on=on[:, of], off=off[:, of], missing=missing,
        wetness=source.wet * wetness[:, of],
        log_time=np.clip(log_time, *DRIFT_LIMITS)[:, of],
        radiant=(source.radiant * (1.0 - SHADED * shade))[of], outside_c=evidence.outside_c,
    )  # fmt: skip


def _neighbours(birds: tuple[BirdEvidence, ...], index: int) -> int:
    """How many birds hang right beside one; they are in the spit's order."""
    numbers = {bird.number for bird in birds}
    return len({birds[index].number - 1, birds[index].number + 1} & numbers)


def _shares(birds: tuple[BirdEvidence, ...], line: Timeline) -> tuple[Array, Array]:
    """Share of each step over the fire and off it, both (steps, birds)."""
    begin = line.at_s()[:-1]
    end = begin + line.dt_s
    on = np.zeros((line.steps, len(birds)))
    off = np.zeros_like(on)
    for column, bird in enumerate(birds):
        for span in bird.on_heat:
            until = np.inf if span.end_s is None else span.end_s
            on[:, column] += np.clip(
                np.minimum(end, until) - np.maximum(begin, span.start_s), 0, None
            )
        out = np.clip(end - np.maximum(begin, bird.on_heat[0].start_s), 0, None)
        off[:, column] = np.clip(out - on[:, column], 0, None)
    return on / line.dt_s, off / line.dt_s


def bodies(evidence: Evidence, birds: tuple[BirdEvidence, ...], rows: tuple[Row, ...],
           value: Array) -> Bodies:  # fmt: skip
    """Bodies of `rows` from their birds' unknowns, `value` (SHARED, rows, p)."""
    surface, size, wet, start, probe, shape, dial, lid, drift, thigh = value
    exponent = np.clip(priors.SHAPE + shape, *priors.SHAPE_LIMITS)
    pace = np.sqrt((exponent + 1.0) / (priors.SHAPE_EXPONENT + 1.0))  # shape alone: same time
    lengths = [priors.median_length_m(birds[row.bird], evidence.heat) for row in rows]
    median = np.array(lengths)[:, None]
    of_thigh = np.array([row.site == "thigh" for row in rows])[:, None]
    length_m = median * np.maximum(np.exp(size) * pace, SMALLEST_SIZE)
    length_m = np.where(of_thigh, priors.THIGH_LENGTH * np.exp(thigh), 1.0) * length_m
    meat = lean_chicken()
    conductivity = meat.conductivity(MEAN_MEAT_C)
    coefficient = SOURCES[evidence.heat].surface_w_m2k * np.exp(surface)
    found = modes(coefficient * length_m / conductivity, exponent)
    return Bodies(
        rate=found.rate * (conductivity / meat.rho_cp / np.square(length_m)),
        centre=found.centre, probed=found.probed,
        start_c=priors.START_C + start, dial=np.exp(dial), drift=drift,
        wet=np.minimum(np.exp(wet), MOST_PULL / SOURCES[evidence.heat].wet),
        lid=np.minimum(np.exp(lid), MOST_LOST / air.LID_DEPTH),
        offset=priors.MISSED * (AIMED_AT_M / length_m) * np.exp(probe),
    )  # fmt: skip


def feels(stage: Stage, body: Bodies, air_c: Array) -> Array:
    """What each body feels, step by step (steps, rows, p), from the air (steps, rows, p) with
    the lid shut. Off the heat a skin keeps its coefficient: 15 minutes of saucing make done
    2 (spit) and 8 (indirect) later, where our two simulated kitchens have 3 and 6."""
    dtype = air_c.dtype
    rise = air_c - dtype.type(stage.outside_c)
    part = stage.missing.astype(dtype)[:, None, None] * (-body.lid).astype(dtype)
    part += (1.0 + stage.radiant.astype(dtype))[:, None]
    part *= body.dial.astype(dtype)
    rise *= part
    np.multiply(stage.wetness.astype(dtype)[:, :, None], body.wet.astype(dtype), out=part)
    above = rise + dtype.type(stage.outside_c - WET_SKIN_C)
    part *= above
    rise -= part
    rise += dtype.type(stage.outside_c)
    away = np.flatnonzero((stage.on < 1.0).any(axis=1))
    on, off = (one[away].astype(dtype)[:, :, None] for one in (stage.on, stage.off))
    start_c = body.start_c.astype(dtype)
    rise[away] = on * rise[away] + off * dtype.type(stage.outside_c) + (1 - on - off) * start_c
    return rise


def tempo(stage: Stage, body: Bodies, steps: slice) -> Array:
    """How fast each body's clock runs in each of these steps (n, rows, p), in single precision;
    at the typical roast's end it shows the same time whatever its drift."""
    drift = np.maximum(body.drift, SLOWEST_DRIFT).astype(np.float32)
    runs = stage.log_time[steps].astype(np.float32)[:, :, None] * drift
    np.exp(runs, out=runs)
    runs *= 1.0 + drift
    return runs


def left_of_way(stage: Stage, body: Bodies, first: int, end: int) -> Array:
    """Share of its way to what is felt that each mode has left after each of these steps,
    (end - first, KEPT, rows, p), in single precision."""
    slower = (body.rate * -stage.line.dt_s).astype(np.float32)
    left: Array = slower * tempo(stage, body, slice(first, end))[:, None]
    return np.exp(left, out=left)


def march(stage: Stage, body: Bodies, felt_c: Array) -> Array:
    """Modes at the step boundaries, (steps + 1, KEPT, rows, p).

    All blocks of steps at once, each from zero, and then the start carried through them:
    the same sums in a tenth of the calls.
    """
    steps, shape = felt_c.shape[0], body.rate.shape
    block = int(np.sqrt(steps)) + 1
    blocks = -(-steps // block)
    seen = np.empty((1 + blocks * block, *shape), felt_c.dtype)
    moved = seen[1:].reshape(blocks, block, *shape)
    left = np.ones((blocks * block, *shape), felt_c.dtype)
    left[:steps] = left_of_way(stage, body, 0, steps)
    left = left.reshape(moved.shape)
    felt = np.zeros((blocks * block, 1, *felt_c.shape[1:]), felt_c.dtype)
    felt[:steps, 0] = felt_c
    felt = felt.reshape(blocks, block, *felt.shape[1:])
    before: Array = np.zeros_like(moved[:, 0])
    for k in range(block):
        here = moved[:, k]
        np.subtract(before, felt[:, k], out=here)
        here *= left[:, k]
        here += felt[:, k]
        before = here
        if k:
            left[:, k] *= left[:, k - 1]
    seen[0] = body.start_c
    for k in range(blocks):
        left[k] *= seen[k * block]
        moved[k] += left[k]
    return seen[: steps + 1]


def looked(seen: Array, weights: Array) -> Array:
    """Temperatures (times, rows, p) from modes, by weights (KEPT, rows, p)."""
    total: Array = seen[:, 0] * weights[0]
    term = np.empty_like(total)
    for part in range(1, weights.shape[0]):
        total += np.multiply(seen[:, part], weights[part], out=term)
    return total


def rows_of(birds: tuple[BirdEvidence, ...]) -> tuple[Row, ...]:
    """The sites that are followed: one for each by which a bird is checked."""
    return tuple(Row(index, site) for index, bird in enumerate(birds) for site in bird.sites)
