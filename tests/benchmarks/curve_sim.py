"""The third world: no physics at all, only printed and reported times and reported curves.

Nothing of the forecaster is set on it. How long a bird takes is drawn from what is printed
and reported (below, each with its source); how its coldest spot rises on the way is a curve
of a family that holds what cooks tell; fires, lids and saucings only slow the clock along
that curve. Half the cooks turn a spit over charcoal, the others have an indirect grill.
Temperatures in F, as they are told, until they become evidence; times in s.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from assistant.heat.bird.evidence import (
    AirReading,
    BirdEvidence,
    CoreReading,
    Evidence,
    HeatKind,
)  # fmt: skip
from tests.benchmarks.kitchen_sim import Told, spans_told
from tests.benchmarks.kitchen_sim_world import POUND, Array, Rng

TICK_S = 15.0
LONGEST_S = 8 * 3600.0
SAUCE_F, DONE_F, FRIDGE_F, NOMINAL_F = 130.0, 165.0, 40.0, 375.0
# Minutes to 165 F at a weight in pounds, and the log scatter between cooks. Spit: chickens
# of 4 to 6 lb 14 to 16 minutes a pound, eight of ten within 11 to 20, turkeys of 10 to 16 lb
# 9 to 12 (tests/references/spit_cooks.csv: reports, weakly). Indirect with a drip pan:
# broilers of 3 to 4 lb 60 to 75 minutes, hens of 1.1 to 1.5 lb 45 to 55, roasters 18 to 25
# minutes a pound (tests/references/roasting_times.csv). The middles are a few minutes less
# than those: looks come on top.
TAKES = {
    ("charcoal spit", "chicken"): (5.0, 70.0, 0.23),
    ("charcoal spit", "turkey"): (13.0, 130.0, 0.18),
    ("indirect", "chicken"): (4.5, 80.0, 0.17),
    ("indirect", "hen"): (1.3, 48.0, 0.12),
}
WITHIN_CLASS = 0.75  # exponent of weight: between 2/3 by geometry and 1 by the printed rule
HOUSE, COOK, BIRD = 0.6, 0.25, 0.15  # shares of the scatter's variance
COUNTS_FROM_F = 130.0  # a grill's warmth above this drives the clock; common practice, no source


@dataclass(frozen=True)
class Piece:
    """One bird: minutes its curve takes, the curve's shape, what was said of it."""

    kind: str
    mass_kg: float
    said_kg: float | None
    takes_s: float
    lag: float  # share of the way in which nothing happens in the middle
    bend: float  # how much the rise slows towards the end; 0: a straight line
    fridge_f: float


@dataclass(frozen=True)
class Evening:
    """One cook and its habits."""

    heat: HeatKind
    birds: tuple[Piece, ...]
    grill_f: Array  # (ticks,)
    level_f: float
    dial_off_f: float
    dial_every_s: float
    first_look_s: float
    look_every_s: float
    lid_costs_s: float  # of the clock, by a look
    shallow_f: float  # mean by which a probe reads too high, half way
    sauce_off_s: float
    slip: bool
    seed: int


class Cook(Told[Evening, tuple[int, float, float, bool]]):
    """A cook of this world; a snapshot is how far a bird was at a reading."""

    def evidence(self, now_s: float) -> Evidence:
        """What Turnspit would have been told by `now_s`."""
        birds = tuple(
            BirdEvidence(
                index + 1, bird.kind, bird.said_kg, spans_told(self.spans[index], now_s),
                tuple(CoreReading(at, celsius(told_f)) for which, at, told_f in self.readings
                      if which == index and at <= now_s),
            )
            for index, bird in enumerate(self.evening.birds)
        )  # fmt: skip
        dial = tuple(AirReading(at, value) for at, value in self.grill if at <= now_s)
        return Evidence(birds, dial, heat=self.evening.heat)


def celsius(told_f: float) -> float:
    """Degrees C."""
    return (told_f - 32.0) / 1.8


def draw_evening(seed: int) -> Evening:
    """One cook, the same for the same seed."""
    rng = np.random.default_rng(seed)
    heat: HeatKind = "charcoal spit" if rng.uniform() < 0.5 else "indirect"
    other = "turkey" if heat == "charcoal spit" else "hen"
    kind = "chicken" if rng.uniform() < 0.8 else other
    shared, lag, bend = rng.normal(), rng.uniform(0.05, 0.25), rng.uniform(-0.2, 1.2)
    count = 1 if kind == "turkey" else int(rng.integers(1, 4))
    grill_f, level_f = _grill(rng)
    return Evening(
        heat=heat,
        birds=tuple(_piece(rng, heat, kind, shared, lag, bend) for _ in range(count)),
        grill_f=grill_f, level_f=level_f,
        dial_off_f=float(rng.normal(0.0, 10.0)),
        dial_every_s=float(rng.uniform(600.0, 2000.0)),
        first_look_s=60.0 * float(rng.uniform(30.0, 45.0)) * (0.6 if kind == "hen" else 1.0),
        look_every_s=60.0 * float(rng.uniform(8.0, 18.0)),
        lid_costs_s=float(rng.uniform(20.0, 120.0)),
        shallow_f=float(rng.lognormal(np.log(5.0), 0.6)),
        sauce_off_s=60.0 * float(rng.uniform(5.0, 14.0)),
        slip=bool(rng.uniform() < 0.12), seed=seed,
    )  # fmt: skip


def _piece(rng: Rng, heat: str, kind: str, shared: float, lag: float, bend: float) -> Piece:
    middle_lb, minutes, scatter = TAKES[heat, kind]
    pounds = middle_lb * float(rng.lognormal(0.0, 0.18))
    own = np.sqrt(HOUSE + COOK) * shared + np.sqrt(BIRD) * rng.normal()
    takes_min = minutes * (pounds / middle_lb) ** WITHIN_CLASS * np.exp(scatter * own)
    told = None if rng.uniform() < 0.1 else round(4.0 * pounds) / 4.0 * POUND
    return Piece(
        kind, pounds * POUND, told, 60.0 * float(takes_min),
        float(np.clip(lag + rng.normal(0.0, 0.03), 0.02, 0.3)),
        float(bend + rng.normal(0.0, 0.2)), FRIDGE_F + float(rng.normal(0.0, 5.0)),
    )  # fmt: skip


def _grill(rng: Rng) -> tuple[Array, float]:
    """A fire that wanders about its level and is brought back, F every tick."""
    ticks = int(LONGEST_S / TICK_S)
    level_f = float(rng.normal(NOMINAL_F, 18.0))
    path, off_f, keep = np.empty(ticks), 0.0, np.exp(-TICK_S / 2400.0)
    shocks = rng.standard_normal(ticks) * 18.0 * np.sqrt(1.0 - keep**2)
    for tick, shock in enumerate(shocks):
        off_f = keep * off_f + shock
        path[tick] = level_f + off_f
    return path, level_f


def rise(bird: Piece, way: float) -> float:
    """Temperature of the coldest spot, F, at a share of the way (1: done)."""
    sharp = 14.0  # of the corner between lying still and rising
    soft = np.log1p(np.exp(sharp * (np.array([0.0, way, 1.0]) - bird.lag)))
    x = float((soft[1] - soft[0]) / (soft[2] - soft[0]))
    bent = -np.expm1(-bird.bend * x) / -np.expm1(-bird.bend) if abs(bird.bend) > 1e-3 else x
    return bird.fridge_f + (DONE_F - bird.fridge_f) * float(bent)


def sauce_way(bird: Piece) -> float:
    """Share of the way at which the coldest spot is at the sauce mark."""
    ways = np.linspace(0.0, 1.0, 400)
    return float(np.interp(SAUCE_F, [rise(bird, way) for way in ways], ways))


def cook_one(evening: Evening) -> Cook:
    """Roast one evening until every bird is done."""
    rng = np.random.default_rng(evening.seed + 3_000_017)
    cook, count = Cook(evening), len(evening.birds)
    cook.spans = [[[0.0, None]] for _ in evening.birds]
    sauce, way = [sauce_way(bird) for bird in evening.birds], np.zeros(count)
    found = np.full((2, count), np.nan)
    off_until, leaves, sauced = np.full(count, -1.0), np.full(count, np.inf), np.zeros(count, bool)
    next_look, next_dial, still_until = evening.first_look_s, 120.0, -1.0
    slip_at = int(rng.integers(1, 6)) if evening.slip else -1
    for tick in range(int(LONGEST_S / TICK_S)):
        now_s = tick * TICK_S
        for b in np.flatnonzero(leaves <= now_s):
            away_s = evening.sauce_off_s * float(rng.lognormal(0.0, 0.1))
            off_until[b], leaves[b], sauced[b] = now_s + away_s, np.inf, True
            cook.spans[b][-1][1] = now_s
            cook.spans[b].append([now_s + away_s, None])
        if next_dial <= now_s:
            shown_f = evening.grill_f[tick] + evening.dial_off_f + rng.normal(0.0, 4.0)
            cook.grill.append((now_s, celsius(5.0 * round(shown_f / 5.0))))
            next_dial = now_s + evening.dial_every_s * float(rng.uniform(0.6, 1.4))
        if next_look <= now_s:
            for b in np.flatnonzero(np.isnan(found[1]) & (off_until <= now_s)):
                told_f = _told_f(evening, evening.birds[b], way[b], rng)
                told_f += float(rng.choice([-40, -20, 20, 40])) * (len(cook.readings) == slip_at)
                cook.readings.append((int(b), now_s, told_f))
                cook.snapshots.append((int(b), now_s, float(way[b]), bool(sauced[b])))
                if told_f >= SAUCE_F and not sauced[b] and not np.isfinite(leaves[b]):
                    leaves[b] = now_s + float(rng.uniform(60.0, 240.0))
            still_until = now_s + evening.lid_costs_s
            next_look = now_s + evening.look_every_s * float(rng.uniform(0.7, 1.3))
        if now_s >= still_until:
            over = off_until <= now_s
            way += over * TICK_S * pace(evening.grill_f[tick]) / takes_s(evening)
        for row, mark in enumerate((np.array(sauce), np.ones(count))):
            found[row, np.isnan(found[row]) & (way >= mark)] = now_s + TICK_S
        if np.isfinite(found).all():
            break
    cook.sauce_s, cook.done_s = ([float(t) for t in row] for row in found)
    return cook


def _told_f(evening: Evening, bird: Piece, way: float, rng: Rng) -> float:
    """What is read: too high by what the tip missed, most of it early, as cooks tell: birds
    read 120 F after 40 minutes and only 130 after 55 are done after 75 to 90."""
    too_high = float(rng.exponential(evening.shallow_f)) * 2.0 * max(1.0 - way, 0.15)
    return float(round(rise(bird, way) + too_high + float(rng.normal(0.0, 1.5))))


def pace(grill_f: float) -> float:
    """Speed along the curve, 1 at the printed times' temperature."""
    return max((grill_f - COUNTS_FROM_F) / (NOMINAL_F - COUNTS_FROM_F), 0.0)


def takes_s(evening: Evening) -> Array:
    """How long each bird's curve takes over a nominal fire, with no look and no saucing."""
    return np.array([bird.takes_s for bird in evening.birds])


def cook_all(evenings: Sequence[Evening]) -> list[Cook]:
    """Simulate these evenings."""
    return [cook_one(evening) for evening in evenings]


def oracle_done_s(cooks: Sequence[Cook]) -> list[tuple[list[float], list[float]]]:
    """For every cook, the sauce and done times foretold at its readings by somebody who
    knows its curves and its fire's level, but not what is still to come: the saucing takes
    ten minutes, looks cost what they cost every thirteen."""
    result: list[tuple[list[float], list[float]]] = []
    for cook in cooks:
        evening = cook.evening
        slower = pace(evening.level_f) * (1.0 - evening.lid_costs_s / evening.look_every_s)
        sauce_s, done_s = [], []
        for b, at_s, way, sauced in cook.snapshots:
            bird = evening.birds[b]
            rate = slower / bird.takes_s
            sauce_s.append(at_s + max(sauce_way(bird) - way, 0.0) / rate)
            done_s.append(at_s + max(1.0 - way, 0.0) / rate + (0.0 if sauced else 600.0))
        result.append((sauce_s, done_s))
    return result
