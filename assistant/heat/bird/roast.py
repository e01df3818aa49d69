"""The forward model: birds turning in the grill, for an ensemble of their unknowns."""

from collections.abc import Callable
from dataclasses import dataclass, fields, replace

import numpy as np

from assistant.heat.bird import air, conduction, priors
from assistant.heat.bird.evidence import BirdEvidence, Evidence, Span
from assistant.heat.bird.properties import Array, lean_chicken
from assistant.heat.bird.skin import Skin

NODES = 8
LONGEST_STEP_S = 200.0
SMALLEST_SIZE = 0.6  # of the median length: keeps the time step from shrinking to nothing
PROBED = 0.4  # relative radius where the neighbourhood of the coldest spot is felt
PULLED_WITHIN_C = 1.0
BACK_WITHIN_S = 60.0
FIRST_LOOK_SHARE = 0.45  # of the roast, before anybody opens the lid to look
SIX_POUNDS_M, SIX_POUNDS_S = priors.LENGTH_OF_SPHERE * priors.sphere_radius_m(2.72), 6700.0


@dataclass(frozen=True, slots=True, eq=False)
class Bodies:
    """Arrays (birds, particles), SI; `offset`: of the probe, share of the rise."""

    length_m: Array
    gain: Array
    wet: Array
    start_c: Array
    offset: Array
    exponent: Array


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
class Tracks:
    """Coldest spot and its rise to x = 0.4, both (times, birds, particles)."""

    at_s: Array
    core_c: Array
    rise_c: Array


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


def typical_roast_s(birds: tuple[BirdEvidence, ...]) -> float:
    """About how long the biggest of these birds takes."""
    longest_m = max(priors.median_length_m(bird) for bird in birds)
    return float(SIX_POUNDS_S * (longest_m / SIX_POUNDS_M) ** 2)


def shares(birds: tuple[BirdEvidence, ...], line: Timeline) -> tuple[Array, Array]:
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


def timeline(bodies: Bodies, start_s: float, now_s: float, end_s: float) -> Timeline:
    """Steps as long as these bodies allow, from the first bird on to `end_s`."""
    mesh = conduction.grid(NODES, bodies.exponent)
    dt_s = conduction.stable_step_s(mesh, bodies.length_m, lean_chicken())
    dt_s = min(LONGEST_STEP_S, dt_s)
    steps = max(int(np.ceil((end_s - start_s) / dt_s)), 2)
    return Timeline(start_s, dt_s, steps, int(np.ceil((now_s - start_s) / dt_s)))


def single_precision(bodies: Bodies) -> Bodies:
    """The same bodies in half the memory: for the ensemble, not for derivatives."""
    return Bodies(*(getattr(bodies, part.name).astype(np.float32) for part in fields(bodies)))


Watch = Callable[[int, Array, Skin], bool]


def roast(
    evidence: Evidence, birds: tuple[BirdEvidence, ...], line: Timeline, bodies: Bodies,
    fire_c: Array, watch: Watch | None = None,
) -> Tracks:  # fmt: skip
    """Roast `birds` (settled) in the air `fire_c` (steps, particles), lid dips included.

    `watch(step, core, skin)` sees the coldest spots (birds, particles) and may stop.
    """
    on, off = shares(birds, line)
    skin = Skin(
        gain=bodies.gain, wet=bodies.wet, on=on, off=off, fire_c=fire_c,
        outside_c=evidence.outside_c, dt_s=line.dt_s,
    )  # fmt: skip
    shape = np.broadcast_shapes(bodies.length_m.shape, bodies.gain.shape)
    dtype = bodies.length_m.dtype
    seen = np.empty((line.steps + 1, 2, *shape), dtype)
    look = conduction.looking_at(NODES, (0.0, PROBED)).astype(dtype)
    last = line.steps

    def see(step: int, temperature_c: Array) -> bool:
        nonlocal last
        np.matmul(look, temperature_c.reshape(NODES, -1), out=seen[step].reshape(2, -1))
        last = step
        return watch is not None and watch(step, seen[step, 0], skin)

    mesh = conduction.grid(NODES, bodies.exponent)
    conduction.march(
        mesh, lean_chicken(), bodies.length_m, bodies.start_c, skin, line.dt_s, line.steps, see
    )
    seen = seen[: last + 1]
    return Tracks(line.at_s()[: last + 1], seen[:, 0], seen[:, 1] - seen[:, 0])


def dipped(
    evidence: Evidence, line: Timeline, now_s: float, path: air.Path, knots_c: Array
) -> Array:
    """Grill temperature by step (steps, particles) from knot values (K, particles)."""
    middle = line.at_s()[:-1] + 0.5 * line.dt_s
    smooth = air.interpolation(path.knots_s, middle) @ knots_c
    looks_from_s = line.start_s + FIRST_LOOK_SHARE * typical_roast_s(evidence.birds)
    missing = air.dips(evidence, now_s, line.start_s, line.dt_s, line.steps, looks_from_s)[:, None]
    warm: Array = evidence.outside_c + (smooth - evidence.outside_c) * (1.0 - missing)
    return warm
