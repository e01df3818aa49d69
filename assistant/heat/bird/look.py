"""When the next reading is worth its open lid.

A look costs heat (the lid is open) and, where it comes too late, an overrun mark;
where it comes too early, another look, aimed better by what this one told. The time
that makes the expected cost least is found on the ensemble itself. Costs are seconds.
"""

from dataclasses import dataclass

import numpy as np

from assistant.heat.bird import air, probe
from assistant.heat.bird.ensemble import Ensemble, at_times
from assistant.heat.bird.evidence import BirdEvidence, BirdForecast, Look
from assistant.heat.bird.properties import Array
from assistant.heat.bird.roast import is_pulled

TROUBLE_S = 60.0  # what walking to the grill and probing is worth avoiding
OVERRUN = 3.0  # a minute past a mark costs as much as three spent on looking: on a spit twenty
# minutes lie between the two marks, and a sauce wants ten of them to set
# Expected cost of aiming at a mark known to a standard deviation: where one look in ten comes
# late, its overrun costs 3 x 0.047 of that (a normal's loss beyond its 90 % quantile).
AIM_SHARE = 0.14
SOONEST_S = 60.0
AGAIN_S = 300.0  # a bird is left alone this long after a reading
CANDIDATES = 30
MAY_BE_NEAR = 0.15  # chance of the mark from which on a look is for the mark itself
SURE = 0.9
NEVER_S = 6 * 3600.0


@dataclass(frozen=True, slots=True)
class Candidate:
    """A look at one bird: its time, expected cost and chance to find the mark reached."""

    at_s: float
    cost_s: float
    found: float


def looks_of(cloud: Ensemble, birds: tuple[BirdForecast, ...]) -> tuple[Look, ...]:
    """When each bird is next worth a look, soonest first; empty when nothing is left to
    look for."""
    looks = [
        found
        for index, bird in enumerate(birds)
        if (found := _look_at(cloud, index, bird)) is not None
    ]
    return tuple(sorted(looks, key=lambda look: look.at_s))


def _look_at(cloud: Ensemble, index: int, bird: BirdForecast) -> Look | None:
    told = cloud.told[index]
    mark = waiting_for(told)
    if mark is None:
        return None
    soonest_s = cloud.task.now_s + SOONEST_S
    if told.readings:
        soonest_s = max(soonest_s, told.readings[-1].at_s + AGAIN_S)
    back_s = cloud.task.birds[index].on_heat[-1].start_s
    soonest_s = max(soonest_s, back_s)
    if (bird.at_sauce if mark == "sauce" else bird.at_done) >= SURE:
        return Look(bird.number, soonest_s, mark)
    best = cheapest(cloud, index, mark, soonest_s)
    if best.found >= MAY_BE_NEAR:
        return Look(bird.number, best.at_s, mark)
    return Look(bird.number, best.at_s, "spread" if told.readings else "first")


def waiting_for(bird: BirdEvidence) -> str | None:
    """The mark a bird's next look is for; None: not on the heat yet, or pulled."""
    if not bird.on_heat or is_pulled(bird):
        return None
    sauced = len(bird.on_heat) > 1 or bird.on_heat[-1].end_s is not None
    plain = bird.planned_off_s == 0.0
    latest = {one.spot: one.temperature_c for one in bird.readings}  # the coldest spot decides
    read = bool(latest) and min(latest.values()) >= bird.sauce_mark_c
    return "done" if sauced or plain or read else "sauce"


def cheapest(cloud: Ensemble, index: int, mark: str, soonest_s: float) -> Candidate:
    """The look of least expected cost from `soonest_s` on."""
    reached_s = cloud.sauce_s[index] if mark == "sauce" else cloud.done_s[index]
    reached_s = np.where(np.isnan(reached_s), cloud.task.now_s + NEVER_S, reached_s)
    weight = cloud.weight[index]
    latest_s = max(float(weight @ reached_s), soonest_s + SOONEST_S)
    at_s = np.linspace(soonest_s, latest_s, CANDIDATES)
    since_s = at_s[:, None] - reached_s
    found = (since_s >= 0.0) @ weight
    left_s = spread_after(cloud, index, reached_s, at_s)
    again_s = (1.0 - found) * (look_cost_s(cloud) + AIM_SHARE * left_s)
    cost_s = OVERRUN * (np.maximum(since_s, 0.0) @ weight) + again_s
    best = int(cost_s.argmin())
    return Candidate(float(at_s[best]), float(cost_s[best]), float(found[best]))


def spread_after(cloud: Ensemble, index: int, reached_s: Array, at_s: Array) -> Array:
    """Standard deviations of a mark's time that readings at `at_s` (n,) would leave, s."""
    weight = cloud.weight[index]
    core = at_times(cloud.tracks.at_s, cloud.tracks.core_c[:, index], at_s)
    rise = at_times(cloud.tracks.at_s, cloud.tracks.rise_c[:, index], at_s)
    miss = probe.mean_miss_c(cloud.offset[index], rise)
    said = core + miss
    noise = probe.READING_SD_C**2 + np.square(miss) @ weight
    said -= (said @ weight)[:, None]
    off = (reached_s - weight @ reached_s) * weight
    variance = float(off @ (reached_s - weight @ reached_s))
    explained = np.square(said @ off) / (np.square(said) @ weight + noise)
    spread: Array = np.sqrt(np.maximum(variance - explained, 0.0))
    return spread


def look_cost_s(cloud: Ensemble) -> float:
    """What one look costs: the heat the open lid loses, for every bird, and the trouble."""
    fallen = air.LID_DEPTH * (1.0 - np.exp(-air.LOOK_S / air.LID_FALL_S))
    lost_s = float(fallen * (0.5 * air.LOOK_S + air.LID_RECOVER_S))
    on_heat = sum(1 for bird in cloud.told if bird.on_heat and not is_pulled(bird))
    return lost_s * max(on_heat, 1) + TROUBLE_S
