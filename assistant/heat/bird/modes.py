"""Conduction as a few exponential modes: exact for any step, so long steps are enough.

A body whose cross-section grows as x^exponent (0 wall, 1 cylinder, 2 sphere, between
them a bird) in surroundings of one temperature E warms at relative radius x as

    T(x, t) = sum over n of C_n(x) y_n,   dy_n/dt = (alpha / L^2) r_n (E(t) - y_n)

with sum C_n = 1. The slowest rate and its weights are those of the finite volumes in
`conduction`, tabulated over Biot number and exponent. Two quick modes stand for all the
others: with the slow one they are three lags in a row, so that the centre lies still in
the first moment after a change and never moves against it, which an exact series cut
off after three terms does. tests/heat/bird/test_modes.py holds it against the published
series and against the marching solver.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.heat.bird import conduction
from assistant.heat.bird.properties import Array

NODES = 24
KEPT = 3
APART = 1.3  # of the quick modes' rates: equal ones would not be exponentials
CENTRE, PROBED = 0.0, 0.4  # relative radii that are looked at
LOG_BIOT = np.linspace(np.log(0.25), np.log(16.0), 17)
EXPONENTS = np.linspace(0.0, 2.4, 9)


@dataclass(frozen=True, slots=True, eq=False)
class Modes:
    """Rates (units of alpha / L^2) and weights at the centre and at 0.4, (KEPT, ...)."""

    rate: Array
    centre: Array
    probed: Array


def modes(biot: Array, exponent: Array) -> Modes:
    """Modes of bodies of any one shape, interpolated linearly in log Biot and exponent."""
    table = _table()
    across, left, right = _place(LOG_BIOT, np.log(biot))
    along, low, high = _place(EXPONENTS, exponent)
    corner = table[:, left, low] * ((1.0 - across) * (1.0 - along))
    corner += table[:, right, low] * (across * (1.0 - along))
    corner += table[:, left, high] * ((1.0 - across) * along)
    corner += table[:, right, high] * (across * along)
    return Modes(np.exp(corner[:KEPT]), corner[KEPT : 2 * KEPT], corner[2 * KEPT :])


def _place(axis: Array, at: Array) -> tuple[Array, Array, Array]:
    place = np.clip((at - axis[0]) / (axis[1] - axis[0]), 0.0, axis.size - 1.001)
    left = place.astype(int)
    return place - left, left, left + 1


@lru_cache
def _table() -> Array:
    """Log rates and weights, (3 KEPT, Biot numbers, exponents)."""
    found = np.empty((3 * KEPT, LOG_BIOT.size, EXPONENTS.size))
    for column, exponent in enumerate(EXPONENTS):
        for row, log_biot in enumerate(LOG_BIOT):
            found[:, row, column] = _solved(float(np.exp(log_biot)), float(exponent))
    return found


def _solved(biot: float, exponent: float) -> Array:
    """Log rates, then weights at the centre, then at 0.4, of one body."""
    mesh = conduction.grid(NODES, exponent)
    to_outside = mesh.skin / (1.0 / biot + 0.5 / NODES)
    matrix = np.diag(-mesh.outflow, 1) * -1.0
    matrix[1:, :-1] += np.diag(mesh.inflow)
    matrix -= np.diag(matrix.sum(axis=1))
    matrix[-1, -1] -= to_outside
    # Symmetric in the scale of the cells' volumes.
    volume = np.diff(np.linspace(0.0, 1.0, NODES + 1) ** (exponent + 1.0))
    scale = np.sqrt(volume)
    values, vectors = np.linalg.eigh(scale[:, None] * matrix / scale)
    rates, shapes = -values[::-1], (vectors / scale[:, None])[:, ::-1]
    share = (vectors * scale[:, None]).sum(axis=0)[::-1]
    looked = conduction.looking_at(NODES, (CENTRE, PROBED)) @ (shapes * share)
    slow, own = rates[0], looked[:, 0]
    # Lags a and APART a beside the slow one's: 1 / ((1 - slow a) (1 - slow APART a)) is
    # the weight that they give it, and has to be the body's own.
    share = 1.0 - 1.0 / own[0]
    lag = (1.0 + APART - np.sqrt((1.0 + APART) ** 2 - 4.0 * APART * share)) / (2.0 * APART * slow)
    kept = np.array([slow, 1.0 / (APART * lag), 1.0 / lag])
    # Both places lie still at first: weights sum to one, weights times rates to none.
    quick = np.linalg.solve(
        np.stack([np.ones(2), kept[1:]]), np.stack([1.0 - own, -slow * own])
    )  # (modes, places)
    weights = np.concatenate([own[None], quick])
    return np.concatenate([np.log(kept), weights[:, 0], weights[:, 1]])
