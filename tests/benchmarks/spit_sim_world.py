"""The second invented world: a motor-driven spit between two beds of coals.

Unlike the first world and unlike the forecaster: coals burn down and are fed, the
gas, the lid and the dial follow from a heat balance, a bird has a breast and a thigh,
its neighbours shade it, and cooks have lid habits of their own. Ranges are physical
guesses; the coals' view is set once so that the middle bird takes as long as reported
spit cooks do. Temperatures C, lengths m, times s.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.floating]
Rng = np.random.Generator

POUND = 0.45359237
TICK_S = 15.0
LONGEST_S = 7 * 3600.0
VIEW = 0.0183  # of one bed of coals: so that birds take as long as reported ones
KINDS = {"chicken": (2.3, 0.22), "hen": (0.65, 0.13), "turkey": (5.8, 0.20)}  # kg, log scatter


@dataclass(frozen=True)
class House:
    """A grill and its cook, the same every evening."""

    view: float  # of one bed, as the turning skin sees it
    uneven: float  # how unlike the beds are
    draught: float  # W/(m2 K), still lid
    loss_w_k: float  # kettle to the outside
    dial_place: float  # 0 in the gas, 1 on the lid's steel
    dial_off_c: float
    depth: float  # breast's half thickness over the cube root of its bird's volume
    fridge_c: float
    probe_depth: float  # scatter of where the tip ends, of the half thickness
    checks: str  # breast, thigh, both
    peeks: float  # lid openings an hour beside readings
    peek_s: float
    read_s: float
    reads_every_s: float
    says_spot: bool


@dataclass(frozen=True)
class Piece:
    """One bird as it is, and what was said of it."""

    kind: str
    mass_kg: float
    said_kg: float | None
    start_c: float
    breast_m: float
    thigh_m: float
    k: float
    rho_cp: float
    water: float  # kg/m2 free at the skin
    bleeds: float  # kg/(m2 s) that meat gives up to the skin when hot, per kelvin
    gelling_j_kg: float  # heat that denaturing proteins take


@dataclass(frozen=True)
class Evening:
    """One cook."""

    house: House
    birds: tuple[Piece, ...]
    outside_c: float
    gusts: Array  # (ticks,) multiplies the loss
    target_c: float
    fuel_every_s: float
    dial_every_s: float
    first_look: float  # share of the expected time
    sauce_off_s: float
    slip: bool  # one reading is misheard
    seed: int


def draw_house(rng: Rng) -> House:
    """A kitchen."""
    return House(
        view=float(rng.lognormal(np.log(VIEW), 0.22)),
        uneven=float(rng.uniform(0.0, 0.5)),
        draught=float(rng.lognormal(np.log(9.0), 0.2)),
        loss_w_k=float(rng.lognormal(np.log(7.5), 0.15)),
        dial_place=float(rng.uniform(0.0, 0.6)),
        dial_off_c=float(rng.normal(0.0, 5.0)),
        depth=float(rng.normal(0.285, 0.012)),
        fridge_c=float(rng.normal(6.0, 2.5)),
        probe_depth=float(rng.lognormal(np.log(0.16), 0.35)),
        checks=str(rng.choice(["breast", "both", "thigh"], p=[0.6, 0.3, 0.1])),
        peeks=float(rng.choice([0.0, 1.0, 4.0], p=[0.4, 0.4, 0.2])),
        peek_s=float(rng.uniform(10.0, 45.0)),
        read_s=float(rng.uniform(25.0, 80.0)),
        reads_every_s=float(rng.uniform(540.0, 1100.0)),
        says_spot=bool(rng.uniform() < 0.5),
    )  # fmt: skip


def draw_piece(rng: Rng, house: House, kind: str) -> Piece:
    """A bird of a kind."""
    mass_kg = float(rng.lognormal(np.log(KINDS[kind][0]), KINDS[kind][1]))
    said: float | None = round(mass_kg / POUND * 4.0) / 4.0 * POUND
    luck = rng.uniform()
    if luck < 0.10:
        said = None
    elif luck < 0.13:
        said = mass_kg * float(rng.choice([0.5, 1.5]))
    stouter = max(mass_kg / 2.3, 1.0) ** 0.08  # big birds are
    breast_m = house.depth * (mass_kg / 1040.0) ** (1.0 / 3.0) * stouter
    breast_m *= float(rng.lognormal(0.0, 0.05))
    return Piece(
        kind=kind, mass_kg=mass_kg, said_kg=said,
        start_c=float(np.clip(house.fridge_c + rng.normal(0.0, 2.0), -1.0, 20.0)),
        breast_m=breast_m, thigh_m=breast_m * float(rng.lognormal(np.log(0.97), 0.07)),
        k=float(rng.normal(0.49, 0.02)), rho_cp=float(rng.normal(3.75e6, 0.08e6)),
        water=float(rng.uniform(0.05, 0.35)), bleeds=float(rng.lognormal(np.log(5e-6), 0.3)),
        gelling_j_kg=float(rng.uniform(5e3, 14e3)),
    )  # fmt: skip


def draw_evening(seed: int, house: House | None = None, kind: str | None = None) -> Evening:
    """One cook, the same for the same arguments."""
    rng = np.random.default_rng(seed)
    drawn = draw_house(rng)
    house = drawn if house is None else house
    if kind is None:
        kind = str(rng.choice(["chicken", "hen", "turkey"], p=[0.7, 0.1, 0.2]))
    count = 1 if kind == "turkey" else int(rng.integers(1, 4))
    ticks = int(LONGEST_S / TICK_S)
    noise = rng.standard_normal(ticks)
    keep = np.exp(-TICK_S / rng.uniform(300.0, 1500.0))
    gusts = np.empty(ticks)
    level = 0.0
    for tick in range(ticks):
        level = keep * level + np.sqrt(1.0 - keep**2) * noise[tick]
        gusts[tick] = np.exp(0.12 * level)
    return Evening(
        house=house, birds=tuple(draw_piece(rng, house, kind) for _ in range(count)),
        outside_c=float(rng.normal(17.0, 6.0)), gusts=gusts,
        target_c=float(np.clip(rng.normal(188.0, 11.0), 155.0, 225.0)),
        fuel_every_s=float(rng.uniform(1800.0, 4200.0)),
        dial_every_s=float(rng.uniform(600.0, 2100.0)),
        first_look=float(rng.uniform(0.3, 0.6)),
        sauce_off_s=float(np.clip(rng.normal(540.0, 150.0), 200.0, 1000.0)),
        slip=bool(rng.uniform() < 0.15), seed=seed,
    )  # fmt: skip
