"""Whole cooks of the benchmark: birds, fire, lid, probe and a cook with habits.

All evenings of a batch run together, tick by tick. What comes out is what a cook
would have said, and beside it the truth nobody saw.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Generic, TypeVar

import numpy as np

from assistant.heat.bird.evidence import AirReading, BirdEvidence, CoreReading, Evidence, Span
from tests.benchmarks import kitchen_sim_body as body
from tests.benchmarks.kitchen_sim_world import POUND, TICK_S, Array, Evening

SAUCE_C = (130.0 - 32.0) / 1.8
DONE_C = (165.0 - 32.0) / 1.8
LONGEST_S = 6.5 * 3600.0
LID_FALL_S = 30.0


@dataclass
class Snapshot:
    """One body's whole state at a reading, for the oracle."""

    evening: int
    bird: int
    at_s: float
    core: Array
    skin: Array
    water: Array
    dip: float
    sauced: bool
    off_until_s: float


def spans_told(spans: Sequence[Sequence[float | None]], now_s: float) -> tuple[Span, ...]:
    """The times over the fire as they are known at `now_s`; one not over yet has no end."""
    return tuple(
        Span(float(start), float(end) if end is not None and end <= now_s else None)
        for start, end in spans
        if start is not None and start <= now_s
    )


EveningT = TypeVar("EveningT")
SnapshotT = TypeVar("SnapshotT")


@dataclass
class Told(Generic[EveningT, SnapshotT]):
    """What was said, what was true, and the states at the readings."""

    evening: EveningT
    readings: list[tuple[int, float, float]] = field(default_factory=list)
    grill: list[tuple[float, float]] = field(default_factory=list)
    spans: list[list[list[float | None]]] = field(default_factory=list)
    sauce_s: list[float] = field(default_factory=list)
    done_s: list[float] = field(default_factory=list)
    snapshots: list[SnapshotT] = field(default_factory=list)


class Cook(Told[Evening, Snapshot]):
    """A cook of this kitchen."""

    def evidence(self, now_s: float) -> Evidence:
        """What Turnspit would have been told by `now_s`."""
        birds = []
        for index, bird in enumerate(self.evening.birds):
            spans = spans_told(self.spans[index], now_s)
            birds.append(
                BirdEvidence(
                    number=index + 1, kind=bird.kind, mass_kg=bird.said_kg, on_heat=spans,
                    readings=tuple(
                        CoreReading(at, value) for which, at, value in self.readings
                        if which == index and at <= now_s
                    ),
                )
            )  # fmt: skip
        return Evidence(
            birds=tuple(birds),
            grill=tuple(AirReading(at, value) for at, value in self.grill if at <= now_s),
            fuel_added_s=tuple(at for at in self.evening.fuel_s if at <= now_s),
            outside_c=20.0,
            heat="indirect",
        )


class Kitchen:
    """A batch of evenings under way."""

    def __init__(self, evenings: Sequence[Evening]) -> None:
        self.evenings = list(evenings)
        self.cooks = [Cook(evening) for evening in evenings]
        self.owner = np.array([e for e, ev in enumerate(evenings) for _ in ev.birds])
        self.place = np.array([b for ev in evenings for b in range(len(ev.birds))])
        self.birds = [bird for ev in evenings for bird in ev.birds]
        self.rngs = [np.random.default_rng(ev.seed + 7_000_003) for ev in evenings]
        self.mesh = body.build(self.birds)
        n = len(self.birds)
        self.core = np.empty((body.NR, body.NZ, n))
        self.core[:] = [bird.start_c for bird in self.birds]
        self.skin = self.core.ravel()[self.mesh.skin_cells].copy()
        self.pool = np.array([bird.pool for bird in self.birds])
        self.water = self.pool[self.mesh.body_of].copy()
        self.dip = np.zeros(len(evenings))
        self.open_until = np.full(len(evenings), -1.0)
        self.off_until = np.full(n, -1.0)
        self.leaves = np.full(n, np.inf)
        self.sauced = np.zeros(n, dtype=bool)
        self.sauce_s, self.done_s = np.full(n, np.nan), np.full(n, np.nan)
        self.next_look = np.array([self._first_look(ev) for ev in evenings])
        self.next_dial = np.array([np.inf if ev.dial_every_s is None else 120.0 for ev in evenings])
        self.wild_at = [
            int(rng.integers(1, 6)) if ev.wild else -1
            for ev, rng in zip(evenings, self.rngs, strict=True)
        ]
        for cook in self.cooks:
            cook.spans = [[[0.0, None]] for _ in cook.evening.birds]

    def _first_look(self, evening: Evening) -> float:
        biggest = max(bird.mass_kg for bird in evening.birds)
        return evening.first_look * 117.0 * 60.0 * (biggest / (6.0 * POUND)) ** (2.0 / 3.0)

    def weather(self, fire_c: Array, over_fire: Array) -> body.Weather:
        """Surroundings of every body for fires (evenings,) of these temperatures."""
        return surroundings(self.evenings, self.owner, self.birds, fire_c, over_fire)

    def run(self) -> list[Cook]:
        """Roast until every bird is done."""
        for tick in range(int(LONGEST_S / TICK_S)):
            now_s = tick * TICK_S
            self._cooks_act(now_s)
            opened = self.open_until > now_s
            loss = np.array([ev.house.lid_loss for ev in self.evenings])
            slow = np.array([ev.house.lid_recover_s for ev in self.evenings])
            self.dip += np.where(
                opened, (loss - self.dip) * TICK_S / LID_FALL_S, -self.dip * TICK_S / slow
            )
            air = np.array([ev.fire_c[tick] for ev in self.evenings])
            outside = np.array([ev.outside_c for ev in self.evenings])
            air = outside + (air - outside) * (1.0 - self.dip)
            over = (self.off_until <= now_s).astype(float)
            body.tick(self.mesh, self.core, self.skin, self.water, self.weather(air, over), TICK_S)
            self._note(now_s + TICK_S)
            if np.isfinite(self.done_s).all():
                break
        for cook_index, cook in enumerate(self.cooks):
            mine = self.owner == cook_index
            cook.sauce_s = [float(t) for t in self.sauce_s[mine]]
            cook.done_s = [float(t) for t in self.done_s[mine]]
        return self.cooks

    def _note(self, now_s: float) -> None:
        cold = body.coldest(self.mesh, self.core)
        self.sauce_s[np.isnan(self.sauce_s) & (cold >= SAUCE_C)] = now_s
        self.done_s[np.isnan(self.done_s) & (cold >= DONE_C)] = now_s

    def _cooks_act(self, now_s: float) -> None:
        for n in np.flatnonzero(self.leaves <= now_s):
            rng = self.rngs[self.owner[n]]
            away = self.evenings[self.owner[n]].sauce_off_s * float(rng.lognormal(0.0, 0.1))
            self.off_until[n], self.leaves[n], self.sauced[n] = now_s + away, np.inf, True
            self.open_until[self.owner[n]] = now_s + 40.0
            spans = self.cooks[self.owner[n]].spans[self.place[n]]
            spans[-1][1] = now_s
            spans.append([now_s + away, None])
        for e in np.flatnonzero(self.next_dial <= now_s):
            self._read_dial(int(e), now_s)
        for e in np.flatnonzero(self.next_look <= now_s):
            self._look(int(e), now_s)

    def _read_dial(self, e: int, now_s: float) -> None:
        evening, rng = self.evenings[e], self.rngs[e]
        if self.dip[e] > 0.08 and rng.uniform() < 0.7:  # most know a dip when they see one
            self.next_dial[e] = now_s + 150.0
            return
        tick = max(0, int((now_s - rng.uniform(0.0, 90.0)) / TICK_S))
        warm = evening.outside_c + (evening.fire_c[tick] - evening.outside_c) * (1 - self.dip[e])
        shown = warm + evening.house.dial_offset_c + rng.normal(0.0, 2.0)
        said_f = round((shown * 1.8 + 32.0) / 5.0) * 5.0
        self.cooks[e].grill.append((now_s, (said_f - 32.0) / 1.8))
        every = evening.dial_every_s or np.inf
        self.next_dial[e] = now_s + every * float(rng.uniform(0.6, 1.4))

    def _look(self, e: int, now_s: float) -> None:
        evening, rng = self.evenings[e], self.rngs[e]
        mine = np.flatnonzero(self.owner == e)
        left = [n for n in mine if np.isnan(self.done_s[n]) and self.off_until[n] <= now_s]
        if len(left) > 1 and rng.uniform() < 0.35:
            left = [left[int(rng.integers(len(left)))]]
        for n in left:
            self._read(e, int(n), now_s)
        self.open_until[e] = now_s + evening.look_open_s
        self.next_look[e] = now_s + evening.look_every_s * float(rng.uniform(0.7, 1.3))

    def _read(self, e: int, n: int, now_s: float) -> None:
        evening, cook, rng = self.evenings[e], self.cooks[e], self.rngs[e]
        miss = np.abs(rng.normal(0.0, evening.house.probe_miss_m))
        angle = rng.uniform(0.0, 0.5 * np.pi)
        value = body.at_probe(
            self.mesh, self.core, n, float(miss * np.cos(angle)), float(miss * np.sin(angle))
        )
        said_f = round(value * 1.8 + 32.0 + float(rng.normal(0.0, 1.0)))
        if len(cook.readings) == self.wild_at[e]:
            said_f += int(rng.choice([-40, -25, -15, 15, 30, 50, 80]))
        cook.readings.append((int(self.place[n]), now_s, (said_f - 32.0) / 1.8))
        here = self.mesh.body_of == n
        cook.snapshots.append(
            Snapshot(
                e, int(self.place[n]), now_s, self.core[..., n].copy(), self.skin[here].copy(),
                self.water[here].copy(), float(self.dip[e]), bool(self.sauced[n]),
                float(self.off_until[n]),
            )
        )  # fmt: skip
        if said_f >= 130 and not self.sauced[n] and not np.isfinite(self.leaves[n]):
            self.leaves[n] = now_s + float(rng.uniform(60.0, 240.0))


def surroundings(
    evenings: Sequence[Evening],
    owner: Array,
    birds: Sequence[object],
    fire_c: Array,
    over_fire: Array,
) -> body.Weather:
    """The weather of bodies owned by evenings, for fires (evenings,)."""

    def of(values: list[float]) -> Array:
        return np.array(values)[owner]

    return body.Weather(
        air_c=fire_c[owner], over_fire=over_fire,
        outside_c=of([ev.outside_c for ev in evenings]),
        convection=of([ev.convection for ev in evenings]),
        coals_view=of([ev.coals_view for ev in evenings]),
        wall_lag=of([ev.house.wall_lag for ev in evenings]),
        humidity=of([ev.house.humidity for ev in evenings]),
        seep=np.array([bird.seep for bird in birds]),  # type: ignore[attr-defined]
        pool=np.array([bird.pool for bird in birds]),  # type: ignore[attr-defined]
        cavity_air=np.array([bird.cavity_air for bird in birds]),  # type: ignore[attr-defined]
    )  # fmt: skip


def oracle_done_s(cooks: Sequence[Cook]) -> list[tuple[list[float], list[float]]]:
    """For every cook, the sauce and done times foretold at its snapshots by somebody
    who knows the bodies and today's fire so far, but not what is still to come: the
    fire goes on at its level, the saucing takes ten minutes, looks cost a little."""
    shots = [shot for cook in cooks for shot in cook.snapshots]
    evenings = [cook.evening for cook in cooks]
    owner = np.array([shot.evening for shot in shots])
    birds = [evenings[shot.evening].birds[shot.bird] for shot in shots]
    mesh = body.build(birds)
    n = len(shots)
    core = np.stack([shot.core for shot in shots], axis=-1)
    skin, water = np.empty(mesh.skin_cells.size), np.empty(mesh.skin_cells.size)
    for i, shot in enumerate(shots):
        here = mesh.body_of == i
        skin[here], water[here] = shot.skin, shot.water
    start = np.array([shot.at_s for shot in shots])
    level = np.array([evenings[e].level_c for e in owner])
    fire0 = np.array(
        [evenings[e].fire_c[int(t / TICK_S)] for e, t in zip(owner, start, strict=True)]
    )
    outside = np.array([evenings[e].outside_c for e in owner])
    loss = np.array([evenings[e].house.lid_loss for e in owner])
    slow = np.array([evenings[e].house.lid_recover_s for e in owner])
    open_s = np.array([evenings[e].look_open_s for e in owner])
    every = np.array([evenings[e].look_every_s for e in owner])
    usual = loss * (1 - np.exp(-open_s / LID_FALL_S)) * (slow + 0.5 * open_s) / every
    sauced = np.array([shot.sauced for shot in shots])
    off_until = np.array([shot.off_until_s for shot in shots])
    sauce_s, done_s = np.full(n, np.nan), np.full(n, np.nan)
    weather = surroundings(evenings, owner, birds, np.zeros(len(evenings)), np.ones(n))
    for tick in range(int(LONGEST_S / TICK_S)):
        now = start + tick * TICK_S
        fade = np.exp(-tick * TICK_S / 3600.0)
        fire = level + (fire0 - level) * fade
        weather.air_c = outside + (fire - outside) * (1 - usual)
        weather.over_fire = (off_until <= now).astype(float)
        body.tick(mesh, core, skin, water, weather, TICK_S)
        cold = body.coldest(mesh, core)
        new = np.isnan(sauce_s) & (cold >= SAUCE_C)
        sauce_s[new] = now[new] + TICK_S
        going = ~sauced & (cold >= SAUCE_C)
        off_until[going], sauced = now[going] + 600.0, sauced | going
        new = np.isnan(done_s) & (cold >= DONE_C)
        done_s[new] = now[new] + TICK_S
        if np.isfinite(done_s).all():
            break
    result = []
    for e in range(len(cooks)):
        mine = owner == e
        result.append(([float(t) for t in sauce_s[mine]], [float(t) for t in done_s[mine]]))
    return result


def cook_all(evenings: Sequence[Evening]) -> list[Cook]:
    """Simulate these evenings."""
    return Kitchen(evenings).run()
