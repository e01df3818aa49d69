"""Whole cooks of the second world: what a cook would have said, and the truth beside it."""

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from assistant.heat.bird.evidence import AirReading, BirdEvidence, CoreReading, Evidence
from tests.benchmarks import spit_sim_grill as grill
from tests.benchmarks.kitchen_sim import Told, spans_told
from tests.benchmarks.spit_sim_world import LONGEST_S, POUND, TICK_S, Array, Evening

SAUCE_C = (130.0 - 32.0) / 1.8
DONE_C = (165.0 - 32.0) / 1.8
TYPICAL_S = 82.0 * 60.0  # of a 5.5 lb bird, as its cook thinks
FEED_HOLD_C = 14.0  # above the target a cook leaves the fire alone
BIRDS_DRAW = 1.08  # what birds and lids take, as a cook has learned to allow for


@dataclass(frozen=True)
class Shot:
    """All of an evening's grill and one bird's two sites at a reading, for the oracle."""

    evening: int
    bird: int
    at_s: float
    state: grill.State
    wanted: float
    sauced: bool
    off_until_s: float


@dataclass
class Cook(Told[Evening, Shot]):
    """A cook at this spit, who says where each reading was taken."""

    spots: list[str | None] = field(default_factory=list)
    fuel_s: list[float] = field(default_factory=list)

    def evidence(self, now_s: float) -> Evidence:
        """What Turnspit would have been told by `now_s`; peeks are told to nobody."""
        birds = []
        for index, bird in enumerate(self.evening.birds):
            spans = spans_told(self.spans[index], now_s)
            read = tuple(
                CoreReading(at, value, spot)
                for (which, at, value), spot in zip(self.readings, self.spots, strict=True)
                if which == index and at <= now_s
            )
            birds.append(BirdEvidence(index + 1, bird.kind, bird.said_kg, spans, read))
        return Evidence(
            birds=tuple(birds),
            grill=tuple(AirReading(at, value) for at, value in self.grill if at <= now_s),
            fuel_added_s=tuple(at for at in self.fuel_s if at <= now_s),
            outside_c=20.0,
        )


class Kitchen:
    """A batch of evenings under way."""

    def __init__(self, evenings: Sequence[Evening]) -> None:
        self.evenings = list(evenings)
        self.cooks = [Cook(evening) for evening in evenings]
        self.owner = np.array([e for e, ev in enumerate(evenings) for _ in ev.birds])
        self.place = np.array([b for ev in evenings for b in range(len(ev.birds))])
        self.rngs = [np.random.default_rng(ev.seed + 9_000_011) for ev in evenings]
        self.fixed = grill.sites(evenings)
        starts = np.array([bird.start_c for ev in evenings for bird in ev.birds for _ in (0, 1)])
        target = np.array([ev.target_c for ev in evenings])
        self.outside = np.array([ev.outside_c for ev in evenings])
        self.loss = np.array([ev.house.loss_w_k for ev in evenings])
        steel = self.outside + 0.68 * (target - self.outside)
        self.now = grill.State(
            np.tile(starts, (grill.LAYERS, 1)), starts.copy(), self.fixed.water.copy(),
            self._held(target), target.copy(), steel,
        )  # fmt: skip
        self.wanted, self.nominal = self._held(target), self._held(target)
        n, count = self.owner.size, len(evenings)
        self.checks = np.array([evenings[e].house.checks for e in self.owner])
        self.open_until, self.off_until = np.full(count, -1.0), np.full(n, -1.0)
        self.leaves, self.sauced = np.full(n, np.inf), np.zeros(n, dtype=bool)
        self.sauce_s, self.done_s = np.full(n, np.nan), np.full(n, np.nan)
        self.next_fuel = np.array(
            [ev.fuel_every_s * rng.uniform(0.5, 1.0)
             for ev, rng in zip(evenings, self.rngs, strict=True)]
        )  # fmt: skip
        self.next_dial = np.full(count, 90.0)
        self.next_look = np.array([self._first_look(ev) for ev in evenings])
        self.slip_at = [int(rng.integers(1, 6)) if ev.slip else -1
                        for ev, rng in zip(evenings, self.rngs, strict=True)]  # fmt: skip
        for cook in self.cooks:
            cook.spans = [[[0.0, None]] for _ in cook.evening.birds]

    def _held(self, gas_c: Array) -> Array:
        """Coals' power that holds the gas at a temperature."""
        through = 1.0 / (1.0 / grill.GAS_W_K + 1.0 / self.loss)
        held: Array = (through + 0.5 * grill.STEEL_W_K) * (gas_c - self.outside) * BIRDS_DRAW / 0.55
        return held

    def _first_look(self, evening: Evening) -> float:
        biggest = max(bird.mass_kg for bird in evening.birds)
        return evening.first_look * TYPICAL_S * float((biggest / (5.5 * POUND)) ** (2.0 / 3.0))

    def run(self) -> list[Cook]:
        """Roast until every bird is done."""
        for tick in range(int(LONGEST_S / TICK_S)):
            now_s = tick * TICK_S
            self._cooks_act(now_s)
            lid = self.open_until > now_s
            over = (self.off_until <= now_s).astype(float)
            gusts = np.array([ev.gusts[tick] for ev in self.evenings])
            self.wanted *= 1.0 - TICK_S / 9000.0  # ash grows, coals shrink
            grill.grill_tick(
                self.now,
                self.loss * gusts,
                self.outside,
                self.wanted,
                lid,  # type: ignore[arg-type]
                self._birds_w(over),
            )
            strength = np.clip(self.now.power / self.nominal, 0.3, 1.6) ** 0.7
            grill.bird_tick(self.fixed, self.now, over.repeat(2), self.outside, strength)
            cold = gone_by(self.now.meat, self.checks)
            self.sauce_s[np.isnan(self.sauce_s) & (cold >= SAUCE_C)] = now_s + TICK_S
            self.done_s[np.isnan(self.done_s) & (cold >= DONE_C)] = now_s + TICK_S
            if np.isfinite(self.done_s).all():
                break
        for index, cook in enumerate(self.cooks):
            mine = self.owner == index
            cook.sauce_s = [float(t) for t in self.sauce_s[mine]]
            cook.done_s = [float(t) for t in self.done_s[mine]]
        return self.cooks

    def _birds_w(self, over: Array) -> Array:
        mass = np.array([bird.mass_kg for ev in self.evenings for bird in ev.birds])
        drawn = 0.09 * mass ** (2.0 / 3.0) * 6.0 * over
        gap = self.now.gas[self.owner] - self.now.skin.reshape(-1, 2)[:, 0]
        return np.bincount(self.owner, drawn * gap, len(self.evenings)) * 0.5

    def _cooks_act(self, now_s: float) -> None:
        for n in np.flatnonzero(self.leaves <= now_s):
            e = self.owner[n]
            away = self.evenings[e].sauce_off_s * float(self.rngs[e].lognormal(0.0, 0.15))
            self.off_until[n], self.leaves[n], self.sauced[n] = now_s + away, np.inf, True
            self.open_until[e] = max(self.open_until[e], now_s + 40.0)
            self.fixed_water(int(n))
            spans = self.cooks[e].spans[self.place[n]]
            spans[-1][1] = now_s
            spans.append([now_s + away, None])
        for e, evening in enumerate(self.evenings):
            if self.rngs[e].uniform() < evening.house.peeks * TICK_S / 3600.0:
                self.open_until[e] = max(self.open_until[e], now_s + evening.house.peek_s)
        for e in np.flatnonzero(self.next_fuel <= now_s):
            self._feed(int(e), now_s)
        for e in np.flatnonzero(self.next_dial <= now_s):
            self._read_dial(int(e), now_s)
        for e in np.flatnonzero(self.next_look <= now_s):
            self._look(int(e), now_s)

    def fixed_water(self, n: int) -> None:
        """A brush of sauce wets both sites."""
        self.now.water[2 * n : 2 * n + 2] += 0.08

    def _feed(self, e: int, now_s: float) -> None:
        evening, rng = self.evenings[e], self.rngs[e]
        self.next_fuel[e] = now_s + evening.fuel_every_s * float(rng.uniform(0.7, 1.3))
        if self.now.gas[e] > evening.target_c + FEED_HOLD_C:
            return
        short = evening.target_c - self.now.gas[e]
        self.wanted[e] = self.nominal[e] * (1.06 + 0.006 * short) * float(rng.lognormal(0.0, 0.06))
        self.open_until[e] = now_s + 30.0
        self.cooks[e].fuel_s.append(now_s)

    def _read_dial(self, e: int, now_s: float) -> None:
        house, rng = self.evenings[e].house, self.rngs[e]
        every = self.evenings[e].dial_every_s
        if self.open_until[e] > now_s - 90.0 and rng.uniform() < 0.7:
            self.next_dial[e] = now_s + 120.0
            return
        lid = self.now.steel[e] / 0.68 - self.outside[e] * (1.0 / 0.68 - 1.0)
        shown = house.dial_place * lid + (1.0 - house.dial_place) * self.now.gas[e]
        said_f = round((shown + house.dial_off_c + rng.normal(0.0, 2.0)) * 0.36 + 6.4) * 5.0
        self.cooks[e].grill.append((now_s, (said_f - 32.0) / 1.8))
        self.next_dial[e] = now_s + every * float(rng.uniform(0.6, 1.4))

    def _look(self, e: int, now_s: float) -> None:
        evening, rng = self.evenings[e], self.rngs[e]
        mine = np.flatnonzero(self.owner == e)
        left = [n for n in mine if np.isnan(self.done_s[n]) and self.off_until[n] <= now_s]
        if len(left) > 1 and rng.uniform() < 0.3:
            left = [left[int(rng.integers(len(left)))]]
        for n in left:
            for site in (0, 1):
                if evening.house.checks in {("breast", "thigh")[site], "both"}:
                    self._read(e, int(n), site, now_s)
        self.open_until[e] = now_s + evening.house.read_s
        self.next_look[e] = now_s + evening.house.reads_every_s * float(rng.uniform(0.7, 1.3))

    def _read(self, e: int, n: int, site: int, now_s: float) -> None:
        evening, cook, rng = self.evenings[e], self.cooks[e], self.rngs[e]
        at = min(abs(float(rng.normal(0.0, evening.house.probe_depth))), 0.95) * grill.LAYERS - 0.5
        value = float(np.interp(at, np.arange(grill.LAYERS), self.now.meat[:, 2 * n + site]))
        said_f = round(value * 1.8 + 32.0 + float(rng.normal(0.0, 1.0)))
        if len(cook.readings) == self.slip_at[e]:
            said_f += int(rng.choice([-40, -30, -10, 10, 30, 50]))
        names = evening.house.checks != "breast" or evening.house.says_spot
        cook.readings.append((int(self.place[n]), now_s, (said_f - 32.0) / 1.8))
        cook.spots.append(("breast", "thigh")[site] if names else None)
        two = slice(2 * n, 2 * n + 2)
        cook.snapshots.append(
            Shot(
                e, int(self.place[n]), now_s,
                grill.State(
                    self.now.meat[:, two].copy(), self.now.skin[two].copy(),
                    self.now.water[two].copy(), self.now.power[e : e + 1].copy(),
                    self.now.gas[e : e + 1].copy(), self.now.steel[e : e + 1].copy(),
                ),
                float(self.wanted[e]), bool(self.sauced[n]), float(self.off_until[n]),
            )
        )  # fmt: skip
        if said_f >= 130 and not self.sauced[n] and not np.isfinite(self.leaves[n]):
            self.leaves[n] = now_s + float(rng.uniform(60.0, 240.0))


def gone_by(meat: Array, checks: Array) -> Array:
    """What each bird's cook goes by (birds,): breast, thigh, or the colder of both."""
    inner = meat[0].reshape(-1, 2)
    colder = np.where(checks == "thigh", inner[:, 1], inner.min(axis=1))
    return np.where(checks == "breast", inner[:, 0], colder)


def cook_all(evenings: Sequence[Evening]) -> list[Cook]:
    """Simulate these evenings."""
    return Kitchen(evenings).run()


def oracle_done_s(cooks: Sequence[Cook]) -> list[tuple[list[float], list[float]]]:
    """For every cook, the sauce and done times foretold at its snapshots by somebody who
    knows the bodies and the fire's state, but not what is still to come: the fire is led
    back to its level, the saucing takes nine minutes, looks cost a little."""
    evenings = [cook.evening for cook in cooks]
    shots = [shot for cook in cooks for shot in cook.snapshots]
    kitchen = Kitchen(evenings)
    first = np.searchsorted(kitchen.owner, np.arange(len(evenings)))
    e = np.array([shot.evening for shot in shots])
    bird = first[e] + np.array([shot.bird for shot in shots])
    fixed = kitchen.fixed.taken(np.stack([2 * bird, 2 * bird + 1], axis=1).ravel())
    fixed.evening = np.repeat(np.arange(len(shots)), 2)
    now = grill.State(
        np.concatenate([shot.state.meat for shot in shots], axis=1),
        *(np.concatenate([getattr(shot.state, part) for shot in shots])
          for part in ("skin", "water", "power", "gas", "steel")),
    )  # fmt: skip
    nominal, loss, outside = kitchen.nominal[e], kitchen.loss[e], kitchen.outside[e]
    wanted = np.array([shot.wanted for shot in shots])
    begun = np.array([shot.at_s for shot in shots])
    sauced = np.array([shot.sauced for shot in shots])
    off_until = np.array([shot.off_until_s for shot in shots])
    checks = np.array([evenings[one].house.checks for one in e])
    shut, sauce_s, done_s = np.zeros(e.size, bool), np.full(e.size, np.nan), np.full(e.size, np.nan)
    for tick in range(int(LONGEST_S / TICK_S)):
        at_s = begun + tick * TICK_S
        over = (off_until <= at_s).astype(float)
        wanted += (0.97 * nominal - wanted) * TICK_S / 2400.0
        grill.grill_tick(now, loss, outside, wanted, shut, np.zeros(e.size))
        strength = np.clip(now.power / nominal, 0.3, 1.6) ** 0.7
        grill.bird_tick(fixed, now, over.repeat(2), outside, strength)
        cold = gone_by(now.meat, checks)
        sauce_s[np.isnan(sauce_s) & (cold >= SAUCE_C)] = at_s[np.isnan(sauce_s) & (cold >= SAUCE_C)]
        going = ~sauced & (cold >= SAUCE_C)
        off_until[going], sauced = at_s[going] + 540.0, sauced | going
        done_s[np.isnan(done_s) & (cold >= DONE_C)] = at_s[np.isnan(done_s) & (cold >= DONE_C)]
        if np.isfinite(done_s).all():
            break
    return [
        ([float(t) for t in sauce_s[e == one]], [float(t) for t in done_s[e == one]])
        for one in range(len(cooks))
    ]
