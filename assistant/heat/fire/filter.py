"""The particle filter behind the fire's forecast."""

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from assistant.heat.bird.evidence import Span
from assistant.heat.fire.evidence import FireEvidence
from assistant.heat.fire.kettle import (
    BIRD_KG,
    BIRD_W,
    GUSTY,
    Batch,
    Cloud,
    Floats,
    Weather,
    branch,
    in_scenarios,
    pile_of,
    prior_cloud,
    step,
)

PARTICLES = 500
AHEAD = 125  # particles run into the future, at AHEAD_STEP_S
STEP_S = 120.0
AHEAD_STEP_S = 180.0
MOST_STEPS = 130
READ_SD_C = 6.0  # a dial, where it hangs, and reading it in smoke
TAIL = 6.0  # degrees of freedom: one misread dial does not kill the cloud
JUMP_SHARE = 0.02  # of steps
JUMP = 14.0
SHRINK = 0.98  # Liu & West: keeps the unknowns apart after resampling
SEEDS = (20, 21, 22)  # the first is shown; advice has to be the same under all
ASSUMED_START_S = 2700.0  # a fire is this old when its first reading is all we have
START_PILE_S = 600.0  # fuel added this soon after lighting belongs to the first pile


@dataclass(frozen=True, slots=True)
class Past:
    """The cloud now, equally weighted, with the batches it burns."""

    cloud: Cloud
    batches: tuple[Batch, ...]
    pieces_per_hour: Floats
    seed: int


def batches_of(known: FireEvidence, now_s: float) -> tuple[float, tuple[Batch, ...]]:
    """Return when the fire began, and its batches up to `now_s`.

    A fire whose first pile nobody counted gets one of unknown size.
    """
    fuel = [load for load in known.fuel if load.at_s <= now_s]
    reads = [r.at_s for r in known.readings if r.at_s <= now_s]
    starts = [load.at_s for load in fuel]
    if known.lit_s is not None:
        begins_s = min([known.lit_s, *starts])
        lit_s = known.lit_s
    else:
        begins_s = lit_s = min([*(r - ASSUMED_START_S for r in reads), *starts, now_s])
    first = [load for load in fuel if load.at_s <= lit_s + START_PILE_S]
    batches = [
        Batch(load.at_s, load.count, load.kind)
        if load.kind == "chimney" or load not in first
        else Batch(max(load.at_s, lit_s), load.count, load.kind, from_lit=True)
        for load in fuel
    ]
    if not first:
        batches.insert(0, Batch(lit_s, None, from_lit=True))
    return begins_s, tuple(batches)


def weather_at(
    known: FireEvidence, start_s: float, step_s: float, *, ahead: bool = False
) -> Weather:
    """Return what holds over one step. `ahead`: the lid is assumed on."""
    middle_s, end_s = start_s + step_s / 2, start_s + step_s
    lid = 0.0 if ahead else sum(_overlap(s, start_s, end_s) for s in known.lid_open) / step_s
    birds_w = sum(
        BIRD_W * (bird.mass_kg / BIRD_KG) ** (2 / 3)
        for bird in known.birds
        if any(_overlap(s, start_s, end_s) > step_s / 2 for s in bird.on_heat)
    )
    moved = [v for v in known.vents if v.at_s <= middle_s]
    bottom, top = (moved[-1].bottom, moved[-1].top) if moved else (None, None)
    felt = [chill for chill in known.weather if _overlap(chill.span, start_s, end_s) > step_s / 2]
    outside_c = known.outside_c - sum(chill.colder_c for chill in felt)
    gusts = GUSTY if any(chill.gusty for chill in felt) else 1.0
    return Weather(middle_s, step_s, min(lid, 1.0), bottom, top, birds_w, outside_c, gusts)


def _overlap(span: Span, start_s: float, end_s: float) -> float:
    ends = end_s if span.end_s is None else span.end_s
    return max(0.0, min(ends, end_s) - max(span.start_s, start_s))


def estimate(known: FireEvidence, now_s: float, seed: int = SEEDS[0]) -> Past:
    """Run the cloud from lighting to now, weighing it at every grill reading."""
    rng = np.random.default_rng(seed)
    begins_s, batches = batches_of(known, now_s)
    cloud = prior_cloud(PARTICLES, len(batches), known.outside_c, known.kitchen, rng)
    pile = pile_of(cloud, batches)
    reads = sorted((r for r in known.readings if begins_s < r.at_s <= now_s), key=lambda r: r.at_s)
    regular = np.linspace(begins_s, now_s, 1 + _steps(now_s - begins_s))
    edges: Floats = np.unique(np.concatenate([regular, np.array([r.at_s for r in reads])]))
    kicks = _kicks(rng, len(edges), PARTICLES)
    power_w: Floats = np.zeros(PARTICLES)
    for edge, after, kick in zip(edges[:-1], edges[1:], kicks, strict=False):
        power_w = step(cloud, pile, weather_at(known, float(edge), float(after - edge)), kick)
        due = [r for r in reads if r.at_s == after]
        for reading in due:
            index = _survivors(cloud, reading.temperature_c, rng)
            cloud, power_w = _spread(cloud.take(index), rng), power_w[index]
        if due:
            pile = pile_of(cloud, batches)
    return Past(cloud, batches, power_w / cloud.value["fire_heat"] * 3600.0, seed)


def _kicks(rng: np.random.Generator, steps: int, n: int) -> Floats:
    """Noise of the air's walk in the past (steps, n): mostly small, now and then a vent
    or a gust nobody told about."""
    small = rng.standard_normal((steps, n))
    return np.where(rng.random((steps, n)) < JUMP_SHARE, JUMP * small, small)


def _steps(span_s: float) -> int:
    return int(np.clip(np.ceil(span_s / STEP_S), 1, MOST_STEPS))


def _survivors(cloud: Cloud, read_c: float, rng: np.random.Generator) -> NDArray[np.intp]:
    """Resample by Student's t around the reading (systematic resampling)."""
    z = (cloud.temperature_c - read_c) / READ_SD_C
    log_w = -0.5 * (TAIL + 1.0) * np.log1p(z**2 / TAIL)
    weight = np.exp(log_w - log_w.max())
    edges = np.cumsum(weight / weight.sum())
    points = (rng.random() + np.arange(weight.size)) / weight.size
    return np.asarray(np.minimum(np.searchsorted(edges, points), weight.size - 1))


def _spread(cloud: Cloud, rng: np.random.Generator) -> Cloud:
    """Shrink the unknowns toward their mean and jitter them: mean and variance stay."""
    mean = cloud.unknown.mean(axis=1, keepdims=True)
    sd = cloud.unknown.std(axis=1, keepdims=True) * np.sqrt(1.0 - SHRINK**2)
    moved = mean + SHRINK * (cloud.unknown - mean) + sd * rng.standard_normal(cloud.unknown.shape)
    return Cloud(
        moved, cloud.air_walk, cloud.temperature_c, cloud.clock, cloud.began, cloud.draught
    )


def run_on(past: Past, known: FireEvidence, now_s: float, until_s: float) -> tuple[Floats, Floats]:
    """Return times (k,) and grill temperatures (k, n) to `until_s`, nothing added."""
    times, temps = ahead(past, known, now_s, until_s)
    return times, temps[:, 0, :]


def ahead(
    past: Past,
    known: FireEvidence,
    now_s: float,
    until_s: float,
    *,
    add: Batch | None = None,
    counts: Floats | None = None,
    bottoms: Floats | None = None,
) -> tuple[Floats, Floats]:
    """Run scenarios: `counts` (d,) pieces of batch `add`, or the bottom vent at `bottoms` (d,).

    Returns times (k,) and temperatures (k, d, n). All scenarios meet the same wind.
    """
    stride = PARTICLES // AHEAD
    few = past.cloud.take(np.arange(0, stride * AHEAD, stride))
    d = next((x.size for x in (counts, bottoms) if x is not None), 1)
    batches = past.batches if add is None else (*past.batches, add)
    cloud = branch(few, d, new_batch=add is not None)
    pile = in_scenarios(pile_of(few, batches), counts)
    count = max(4, int(np.ceil((until_s - now_s) / AHEAD_STEP_S)))
    step_s = (until_s - now_s) / count
    kicks = np.random.default_rng(1000 + past.seed).standard_normal((count, AHEAD))
    times: Floats = np.linspace(now_s, until_s, count + 1)
    temps: Floats = np.empty((count + 1, d, AHEAD))
    temps[0] = cloud.temperature_c
    for i in range(count):
        weather = weather_at(known, float(times[i]), step_s, ahead=True)
        if bottoms is not None:
            weather = replace(weather, bottom=bottoms[:, None])
        step(cloud, pile, weather, kicks[i])
        temps[i + 1] = cloud.temperature_c
    return times, temps
