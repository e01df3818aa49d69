"""The grill and the birds of the second world, many evenings at once, tick by tick.

Two beds of coals burn at a rate their vents allow, fed in handfuls; the gas and the
lid's steel follow from a heat balance. A site of a bird is a tapering slab of ten
layers that meets, half a turn at a time, each bed; its proteins take up heat as they
set, and the meat bleeds water that has to boil off at the skin.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tests.benchmarks.spit_sim_world import TICK_S, Array, Evening

LAYERS = 10
PARTS = 4  # of a tick: the layers of the smallest hen would not be stable with one step
SIGMA = 5.670374e-8
COALS_K = 930.0
LATENT = 2.3e6
SHADE = 0.10  # of the coals, by each neighbour
STEEL_J_K, STEEL_W_K, GAS_W_K = 7000.0, 9.0, 16.0
THIGH_VIEW = 1.08  # thighs stand out towards the coals


@dataclass
class Sites:
    """Constants of all sites (n,): two of every bird, the breast first."""

    evening: Array
    half_m: Array
    k: Array
    rho_cp: Array
    view: Array
    water: Array
    bleeds: Array
    gelling: Array
    draught: Array
    layer: Array  # (LAYERS, n) heat capacity per skin area, J/(m2 K)
    conduct: Array  # (LAYERS - 1, n) W/(m2 K) per skin area between layers
    skin: Array  # (n,) W/(m2 K) from the outermost layer's middle to the skin

    def taken(self, places: Array) -> "Sites":
        """These sites only."""
        return Sites(*(part[..., places] for part in vars(self).values()))


def sites(evenings: Sequence[Evening]) -> Sites:
    """All sites of these evenings."""
    rows = []
    for e, evening in enumerate(evenings):
        for b, bird in enumerate(evening.birds):
            beside = int(b > 0) + int(b < len(evening.birds) - 1)
            view = 2.0 * evening.house.view * (1.0 - SHADE * beside)
            for half_m, seen in ((bird.breast_m, 1.0), (bird.thigh_m, THIGH_VIEW)):
                rows.append(
                    (e, half_m, bird.k, bird.rho_cp, view * seen, bird.water, bird.bleeds,
                     bird.gelling_j_kg, evening.house.draught)
                )  # fmt: skip
    columns = np.array(rows).T
    half, k, rho_cp = columns[1], columns[2], columns[3]
    edge = np.linspace(0.0, 1.0, LAYERS + 1)[:, None]
    area = (0.35 + 0.65 * edge) ** 1.6  # of a layer's face, beside the skin's
    dx = half / LAYERS
    return Sites(  # type: ignore[misc]
        columns[0].astype(int), half, k, rho_cp, *columns[4:],
        layer=rho_cp * dx * 0.5 * (area[1:] + area[:-1]),
        conduct=k / dx * area[1:-1], skin=2.0 * k / dx,
    )  # fmt: skip


@dataclass
class State:
    """Everything that changes: layers (LAYERS, n), skins and water (n,), and by evening
    the coals' power (W), gas and lid temperatures."""

    meat: Array
    skin: Array
    water: Array
    power: Array
    gas: Array
    steel: Array

    def copy(self) -> "State":
        """A state of its own."""
        return State(*(part.copy() for part in vars(self).values()))


def grill_tick(now: State, loss: Array, outside: Array, wanted: Array, lid_open: Array,
               birds_w: Array) -> None:  # fmt: skip
    """Coals towards the power `wanted` within minutes, then gas and steel."""
    now.power += (wanted - now.power) * TICK_S / 500.0
    away = loss * (now.steel - outside)
    to_steel = GAS_W_K * (now.gas - now.steel)
    now.steel += TICK_S * (to_steel - away) / STEEL_J_K
    vented = np.where(lid_open, 60.0, STEEL_W_K * 0.5)
    settled = (0.55 * now.power + GAS_W_K * now.steel + vented * outside - birds_w) / (
        GAS_W_K + vented
    )
    slow = np.where(lid_open, 40.0, 70.0)
    now.gas += (settled - now.gas) * (1.0 - np.exp(-TICK_S / slow))


def bird_tick(fixed: Sites, now: State, over: Array, outside: Array, strength: Array) -> None:
    """Every site by one tick; `over` 1 over the fire, 0 off; `strength` of the coals."""
    e = fixed.evening
    gas = np.where(over > 0, now.gas[e], outside[e])
    wall = np.where(over > 0, now.steel[e], outside[e]) + 273.15
    h = np.where(over > 0, fixed.draught, 7.0)
    kelvin = now.skin + 273.15
    view = fixed.view * over
    coals = view * strength[e] * COALS_K**4
    radiant = 0.9 * SIGMA * (coals + (1.0 - view) * wall**4 - kelvin**4)
    wet = np.clip(now.water / 0.15, 0.0, 1.0)
    bleeding = fixed.bleeds * np.maximum(now.meat[-1] - 40.0, 0.0) * 0.1
    free = 1.0e-3 * h * np.exp(17.3 * now.skin / (now.skin + 238.0)) * 0.0046
    drying = np.minimum(wet * free, now.water / TICK_S + bleeding)
    steep = h + 3.6 * SIGMA * kelvin**3 + LATENT * drying * 0.04 + fixed.skin
    flux = h * (gas - now.skin) + radiant - LATENT * drying
    now.skin += (flux - fixed.skin * (now.skin - now.meat[-1])) / steep
    now.water += TICK_S * (bleeding - drying)
    np.maximum(now.water, 0.0, out=now.water)
    into_skin = fixed.skin * (now.skin - now.meat[-1])
    setting = np.exp(-0.5 * ((now.meat - 66.0) / 6.0) ** 2) / (6.0 * 2.5066)
    extra = 1.0 + fixed.gelling * 1040.0 / fixed.rho_cp * setting
    for _ in range(PARTS):
        gain = np.zeros(now.meat.shape)
        gain[-1] = into_skin
        flow = fixed.conduct * (now.meat[1:] - now.meat[:-1])
        gain[:-1] += flow
        gain[1:] -= flow
        now.meat += TICK_S / PARTS * gain / (fixed.layer * extra)
