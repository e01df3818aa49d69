"""The invented world of the benchmark: kitchens, evenings, birds and fires.

Drawn independently of the forecaster: ranges are physical guesses, set once so
that the middle bird's time agrees with the published charts, and then left alone.
Temperatures in C, lengths in m, times in s.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating]
Rng = np.random.Generator

POUND = 0.45359237
TICK_S = 10.0
LONGEST_S = 9 * 3600.0


@dataclass(frozen=True)
class House:
    """What stays the same from evening to evening."""

    convection: float  # W/(m2 K)
    coals_view: float  # share of the skin that sees glowing coals
    wall_lag: float  # walls' warmth as a share of the air's
    humidity: float  # kg/m3 of vapour in the grill
    aspect: float
    cavity: float
    fridge_c: float
    probe_miss_m: float
    dial_offset_c: float
    lid_loss: float
    lid_recover_s: float


@dataclass(frozen=True)
class BirdDraw:
    """One bird as it truly is, and what was said of it."""

    mass_kg: float
    said_kg: float | None
    kind: str
    start_c: float
    aspect: float
    cavity: float
    k: float
    alpha: float
    pool: float  # kg/m2 of water that leaves freely
    seep: float  # share of free evaporation kept up afterwards
    cavity_air: float
    skin_m: float


@dataclass(frozen=True)
class Evening:
    """One cook: the house today, its birds, its fire (C every `TICK_S`) and habits."""

    house: House
    convection: float
    coals_view: float
    outside_c: float
    fire_c: Array
    level_c: float
    fuel_s: tuple[float, ...]
    birds: tuple[BirdDraw, ...]
    first_look: float  # share of the expected time
    look_every_s: float
    look_open_s: float
    sauce_off_s: float
    dial_every_s: float | None
    wild: bool
    seed: int


def draw_house(rng: Rng) -> House:
    """A kitchen."""
    return House(
        convection=float(rng.lognormal(np.log(10.0), 0.16)),
        coals_view=float(rng.lognormal(np.log(0.038), 0.30)),
        wall_lag=float(rng.uniform(0.85, 0.98)),
        humidity=float(rng.uniform(0.015, 0.07)),
        aspect=float(rng.normal(1.3, 0.06)),
        cavity=float(rng.normal(0.43, 0.03)),
        fridge_c=float(rng.normal(6.0, 2.5)),
        probe_miss_m=float(rng.lognormal(np.log(0.010), 0.35)),
        dial_offset_c=float(rng.normal(0.0, 5.0)),
        lid_loss=float(rng.uniform(0.3, 0.6)),
        lid_recover_s=float(rng.uniform(100.0, 240.0)),
    )


def draw_bird(rng: Rng, house: House, kind: str) -> BirdDraw:
    """A bird of a kind, with what the cook says it weighs."""
    typical = {"chicken": (2.2, 0.24), "hen": (0.65, 0.14), "turkey": (5.2, 0.16)}[kind]
    mass_kg = float(rng.lognormal(np.log(typical[0]), typical[1]))
    said: float | None = round(mass_kg / POUND * 4.0) / 4.0 * POUND
    luck = rng.uniform()
    if luck < 0.12:
        said = None
    elif luck < 0.15:
        said = mass_kg * float(rng.choice([0.5, 1.5]))
    return BirdDraw(
        mass_kg=mass_kg, said_kg=said, kind=kind,
        start_c=float(np.clip(house.fridge_c + rng.normal(0.0, 2.0), -1.0, 18.0)),
        aspect=float(np.clip(house.aspect + rng.normal(0.0, 0.06), 1.05, 1.6)),
        cavity=float(np.clip(house.cavity + rng.normal(0.0, 0.03), 0.28, 0.52)),
        k=float(rng.normal(0.50, 0.02)), alpha=float(rng.normal(1.30e-7, 0.06e-7)),
        pool=float(rng.uniform(0.2, 0.6)), seep=float(rng.uniform(0.04, 0.15)),
        cavity_air=float(rng.uniform(0.15, 0.45)), skin_m=float(rng.uniform(0.001, 0.003)),
    )  # fmt: skip


def draw_fire(rng: Rng) -> tuple[Array, float, tuple[float, ...]]:
    """A sagging, fed, gusty fire: temperatures, the level it is held about, fuel times."""
    ticks = int(LONGEST_S / TICK_S)
    at_s = np.arange(ticks) * TICK_S
    level = float(np.clip(rng.normal(190.0, 11.0), 162.0, 222.0))
    sag_per_h = rng.uniform(8.0, 40.0)
    every_s = rng.uniform(2400.0, 4200.0)
    fuel = np.arange(rng.uniform(0.5, 1.0) * every_s, LONGEST_S, every_s)
    saw = np.zeros(ticks)
    swing = sag_per_h * every_s / 3600.0
    value, target, feeding = swing, 0.0, 0.0
    shocks = rng.standard_normal(ticks)
    noise = 0.0
    keep = np.exp(-TICK_S / rng.uniform(600.0, 2400.0))
    roughness = rng.uniform(4.0, 10.0)
    next_fuel = 0
    for i in range(ticks):
        if next_fuel < fuel.size and at_s[i] >= fuel[next_fuel]:
            next_fuel += 1
            target = value + rng.normal(swing, 6.0) - 0.5 * value
            feeding = 900.0
        if feeding > 0:
            value += (target - value) * TICK_S / 400.0
            feeding -= TICK_S
        else:
            value -= sag_per_h * TICK_S / 3600.0
        noise = keep * noise + roughness * np.sqrt(1 - keep**2) * shocks[i]
        saw[i] = value + noise
    for start in rng.uniform(0.0, LONGEST_S, rng.poisson(1.5)):  # gusts
        saw -= rng.uniform(5, 18) * ((at_s > start) & (at_s < start + rng.uniform(300, 1200)))
    fire = np.clip(level - 0.5 * swing + saw, 110.0, 290.0)
    return fire, level, tuple(float(t) for t in fuel)


def draw_evening(seed: int, house: House | None = None, kind: str | None = None) -> Evening:
    """One cook, the same for the same arguments."""
    rng = np.random.default_rng(seed)
    drawn = draw_house(rng)
    house = drawn if house is None else house
    if kind is None:
        kind = str(rng.choice(["chicken", "hen", "turkey"], p=[0.8, 0.1, 0.1]))
    fire_c, level_c, fuel_s = draw_fire(rng)
    count = 1 if kind == "turkey" else int(rng.integers(1, 4))
    return Evening(
        house=house,
        convection=house.convection * float(rng.lognormal(0.0, 0.07)),
        coals_view=house.coals_view * float(rng.lognormal(0.0, 0.12)),
        outside_c=float(rng.normal(18.0, 6.0)),
        fire_c=fire_c, level_c=level_c, fuel_s=fuel_s,
        birds=tuple(draw_bird(rng, house, kind) for _ in range(count)),
        first_look=float(rng.uniform(0.35, 0.6)),
        look_every_s=float(rng.uniform(540.0, 1100.0)),
        look_open_s=float(rng.uniform(25.0, 75.0)),
        sauce_off_s=float(np.clip(rng.normal(600.0, 130.0), 240.0, 1000.0)),
        dial_every_s=None if rng.uniform() < 0.15 else float(rng.uniform(600.0, 2400.0)),
        wild=bool(rng.uniform() < 0.15),
        seed=seed,
    )  # fmt: skip
