"""Each bird followed on its design, from the first bird on to the last one done."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.heat.bird import infer, priors, probe
from assistant.heat.bird.design import unforeseen, waits
from assistant.heat.bird.evidence import BirdEvidence, Evidence
from assistant.heat.bird.guesses import guesses, weigh
from assistant.heat.bird.infer import Problem
from assistant.heat.bird.properties import Array
from assistant.heat.bird.roast import Bodies, left_of_way, looked, march, tempo

POINTS = 256
# How unlike what was read so far the rest of a way goes, log: one bend for a whole way is the
# least that meat may do. Unread birds' times are as wide as printed and reported ones.
REST_SD = 0.12
LONGEST_ON_S = 3 * 3600.0  # how far a guess is carried on beyond the march
# A bird leaves for its saucing when a look reads its mark: a probe seldom hits the coldest
# spot, so that it may leave before that is at the mark, or after, when nobody looked.
SEEN_EARLY_C = 7.0
UNSEEN_S = 670.0  # mean time from so much below the mark until it leaves
WAITING = 0.5  # of that, where it is so warm already
READ_S = 120.0  # mean time from a reading at the mark until it leaves


@dataclass(frozen=True, slots=True, eq=False)
class Tracks:
    """Coldest followed spot and its rise to x = 0.4, both (times, birds, points)."""

    at_s: Array
    core_c: Array
    rise_c: Array


@dataclass(frozen=True, slots=True, eq=False)
class Ensemble:
    """Guesses of each bird with weights (birds, points) and crossing times (birds,
    points), nan where never. `told`: the birds as recorded; `task.birds` have their
    spans carried into the future. `features` by name (parts, birds, points)."""

    task: Problem
    told: tuple[BirdEvidence, ...]
    tracks: Tracks
    offset: Array
    weight: Array
    sauce_s: Array
    done_s: Array
    features: dict[str, Array]


@lru_cache(maxsize=4)
def ensemble(evidence: Evidence, now_s: float, points: int = POINTS) -> Ensemble:
    """What is believed of every bird behind a forecast."""
    task = infer.problem(evidence, now_s)
    posterior = infer.fit(task)
    drawn = guesses(task, posterior, points)
    of = task.bird_of_row
    body, felt = infer.run(task, drawn.value[:, of], drawn.innovations[:, of])
    seen = _followed(task, body, felt)
    core = looked(seen, body.centre.astype(np.float32))
    rise = looked(seen, (body.probed - body.centre).astype(np.float32))
    at_core, risen = infer.at_readings(task, core), infer.at_readings(task, rise)
    miss = probe.mean_miss_c(body.offset[task.reading_row], risen)
    weight = weigh(task, posterior, drawn, at_core, miss)
    line = task.stage.line
    tracks = _coldest(task, core, rise)
    marks = np.array([[bird.sauce_mark_c, bird.done_mark_c] for bird in task.birds])
    first = [int(np.flatnonzero(of == index)[0]) for index in range(len(task.birds))]
    air = felt[:, first]
    slowest = (body.rate[0] * tempo(task.stage, body, slice(-1, None))[0])[first]
    unlike = REST_SD * np.array([[bool(bird.readings)] for bird in task.birds])
    rest = np.exp(unlike * unforeseen(len(task.birds), points))
    sauce_s, done_s = (
        _stretched_s(_crossing_s(tracks, marks[:, column], air[-1], slowest), now_s, rest)
        for column in (0, 1)
    )
    now = min(line.now, line.steps - 1)
    features = {
        "grill": np.stack([air[: max(now, 1)].mean(axis=0), air[now:].mean(axis=0)]),
        **{name: drawn.value[j : j + 1] for j, name in enumerate(priors.NAMES)},
    }
    return Ensemble(
        task, evidence.birds, tracks, body.offset[first], weight, sauce_s, done_s, features
    )


def _coldest(task: Problem, core: Array, rise: Array) -> Tracks:
    """Of each bird the colder of its followed sites (all rows of a bird follow each other)."""
    at_s = task.stage.line.at_s()
    if len(task.stage.rows) == len(task.birds):
        return Tracks(at_s, core, rise)
    colder, beside = [], []
    for index in range(len(task.birds)):
        mine = np.flatnonzero(task.bird_of_row == index)
        place = core[:, mine].argmin(axis=1, keepdims=True)
        colder.append(np.take_along_axis(core[:, mine], place, axis=1)[:, 0])
        beside.append(np.take_along_axis(rise[:, mine], place, axis=1)[:, 0])
    return Tracks(at_s, np.stack(colder, axis=1), np.stack(beside, axis=1))


def _followed(task: Problem, body: Bodies, felt: Array) -> Array:
    """Modes (times, KEPT, rows, points); from now on each guess's bird is taken off for
    its planned saucing, some time after its mark, when a look has found it."""
    line = task.stage.line
    if not any(task.off_planned_s):
        return march(task.stage, body, felt)
    past = march(task.stage, body, felt[: line.now])
    seen = np.empty((felt.shape[0] + 1, *past.shape[1:]), felt.dtype)
    seen[: past.shape[0]] = past
    centre = body.centre.astype(felt.dtype)
    birds, points = len(task.birds), felt.shape[2]
    away_s = np.tile(np.array(task.off_planned_s, felt.dtype)[:, None], (1, points))
    read = np.array([is_read(bird) for bird in task.birds])[:, None]
    unseen_s = (np.where(read, READ_S, UNSEEN_S) * waits(birds, points)).astype(felt.dtype)
    marks = [bird.sauce_mark_c - SEEN_EARLY_C for bird in task.birds]
    mark_c = np.array(marks, felt.dtype)[:, None]
    of, off_c = task.bird_of_row, felt.dtype.type(task.stage.outside_c)
    left = left_of_way(task.stage, body, line.now, felt.shape[0])
    for step in range(line.now, felt.shape[0]):
        here = seen[step]
        there = looked(here[None], centre)[0]
        coldest = there if of.size == birds else np.stack(
            [there[of == index].min(axis=0) for index in range(birds)])  # fmt: skip
        ready = (coldest >= mark_c) | read
        if step == line.now:
            unseen_s[ready & ~read] *= WAITING
        room_s = line.dt_s * ready
        unseen = np.minimum(unseen_s, room_s)
        unseen_s -= unseen
        leaving = np.clip(room_s - unseen, 0.0, away_s)
        away_s -= leaving
        away = (leaving / line.dt_s)[of]
        now_felt = felt[step] + away * (off_c - felt[step])
        seen[step + 1] = now_felt + left[step - line.now] * (here - now_felt)
    return seen


def is_read(bird: BirdEvidence) -> bool:
    """Whether its last reading was at its sauce mark, so that it is about to leave."""
    return bool(bird.readings) and bird.readings[-1].temperature_c >= bird.sauce_mark_c


def _crossing_s(tracks: Tracks, mark_c: Array, last_felt_c: Array, slowest: Array) -> Array:
    """First times the coldest spots reach their marks (birds, points); nan: never.

    A guess still short of its mark when the march ended is carried on by its slowest
    mode alone (rate 1/s) towards what it felt last, if that lies above the mark.
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
    room_c = np.maximum(last_felt_c - mark, 1e-3)
    to_go_s = np.log(np.maximum(last_felt_c - core[-1], room_c) / room_c) / slowest
    later = np.where(to_go_s < LONGEST_ON_S, at_s[-1] + to_go_s, np.nan)
    return np.where(above.any(axis=0), crossing, later)


def _stretched_s(at_s: Array, now_s: float, rest: Array) -> Array:
    """Times with what is still to go taking `rest` times as long."""
    stretched: Array = np.where(at_s > now_s, now_s + (at_s - now_s) * rest, at_s)
    return stretched


def weighted_quantiles(values: Array, weight: Array, levels: tuple[float, ...]) -> list[float]:
    """Quantiles of weighted values; those that fall among nans are nan."""
    order = np.argsort(values)  # nans last
    total = np.cumsum(weight[order]) - 0.5 * weight[order]
    ranked = values[order]
    finite = np.isfinite(ranked)
    if not finite.any():
        return [float("nan")] * len(levels)
    reached = float(weight[np.isfinite(values)].sum())
    found = np.interp(levels, total[finite], ranked[finite])
    return [float(one) if level <= reached else float("nan")
            for level, one in zip(levels, found, strict=True)]  # fmt: skip


def core_at(cloud: Ensemble, index: int, at_s: float) -> Array:
    """The coldest spot of one bird at a time (points,)."""
    return at_time(cloud.tracks.at_s, cloud.tracks.core_c[:, index], at_s)


def at_time(times_s: Array, values: Array, at_s: float) -> Array:
    """Interpolate values (times, ...) at one time, level outside."""
    found: Array = at_times(times_s, values, np.array([at_s]))[0]
    return found


def at_times(times_s: Array, values: Array, at_s: Array) -> Array:
    """Interpolate values (times, ...) at even `times_s` at other times (n,), level outside."""
    place = np.clip((at_s - times_s[0]) / (times_s[1] - times_s[0]), 0, times_s.size - 1)
    left = np.minimum(place.astype(int), times_s.size - 2)
    part = (place - left).reshape(-1, *[1] * (values.ndim - 1))
    mixed: Array = (1.0 - part) * values[left] + part * values[left + 1]
    return mixed
