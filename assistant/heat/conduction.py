"""Transient conduction in one radial dimension, for many bodies at once.

Finite volumes in the relative radius x = r / L of a body whose cross-section
grows as x^exponent (0 wall, 1 cylinder, 2 sphere, between them a bird), explicit
in time, with the conductivity's dependence on temperature carried by the
Kirchhoff transform (theta = integral of k dT). The surface has no heat capacity:
its temperature follows from the balance of conduction and what `Surface` gives.
"""

from collections.abc import Callable
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

import numpy as np

from assistant.heat.properties import Array, Meat


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """`nodes` equal cells. `inflow`: face area over cell volume for the inner faces
    seen from the outer cell, `outflow` from the inner cell; `skin`: of the surface."""

    nodes: int
    inflow: Array
    outflow: Array
    skin: float
    stiffness: float  # largest exchange rate of a cell, units of alpha / L^2


class Surface(Protocol):
    """Heat into the surface."""

    def __call__(self, step: int, surface_c: Array) -> tuple[Array, Array]:
        """Flux in W/m2 and its derivative to the surface temperature, W/(m2 K)."""
        ...


@lru_cache
def grid(nodes: int, exponent: float) -> Grid:
    """A grid on the unit radius; `exponent` 0 wall, 1 cylinder, 2 sphere."""
    dx = 1.0 / nodes
    faces = np.linspace(0.0, 1.0, nodes + 1)
    area = faces**exponent
    volume = np.diff(faces ** (exponent + 1.0)) / (exponent + 1.0)
    rate = (area[:-1] + area[1:]) / (volume * dx)
    if exponent > 0:
        rate[0] = area[1] / (volume[0] * dx)
    rate[-1] = (area[-2] + 2.0 * area[-1]) / (volume[-1] * dx)
    return Grid(
        nodes=nodes,
        outflow=(area[1:-1] / (volume[:-1] * dx))[:, None, None],
        inflow=(area[1:-1] / (volume[1:] * dx))[:, None, None],
        skin=float(area[-1] / volume[-1]),
        stiffness=float(rate[:-1].max()),
    )


def stable_step_s(mesh: Grid, length_m: float, meat: Meat, hottest_c: float = 90.0) -> float:
    """The longest stable time step for the smallest body of an ensemble."""
    alpha = meat.conductivity(hottest_c) / meat.rho_cp
    return 0.98 * length_m**2 / (alpha * mesh.stiffness)


def centre(temperature_c: Array) -> Array:
    """Temperature at x = 0 from cell averages (nodes first), assuming symmetry."""
    value: Array = (9.0 * temperature_c[0] - temperature_c[1]) / 8.0
    return value


def march(
    mesh: Grid,
    meat: Meat,
    length_m: Array,
    start_c: Array,
    surface: Surface,
    dt_s: float,
    steps: int,
    watch: Callable[[int, Array], bool] | None = None,
) -> Array:
    """March bodies of shape (birds, particles) through `steps` time steps.

    `watch(step, temperature)` sees the (nodes, birds, particles) temperatures
    before each step and after the last, and may stop the march by returning True.
    Returns the temperatures it ended with. Unstable if `dt_s` exceeds
    `stable_step_s`.
    """
    shape = np.broadcast_shapes(np.shape(length_m), np.shape(start_c))
    temperature = np.empty((mesh.nodes, *shape))
    temperature[:] = start_c
    theta = np.empty_like(temperature)
    flow = np.empty((mesh.nodes - 1, *shape))
    part = np.empty_like(flow)
    rate = np.broadcast_to(dt_s / (meat.rho_cp * np.square(length_m)), shape)
    conductance = np.broadcast_to(2.0 * mesh.nodes / np.asarray(length_m), shape)
    skin_rate = rate * np.asarray(length_m) * mesh.skin
    half_k1 = 0.5 * meat.k1
    surface_c = temperature[-1].copy()
    for step in range(steps):
        if watch is not None and watch(step, temperature):
            return temperature
        flux, slope = surface(step, surface_c)
        k = conductance * (meat.k0 + meat.k1 * temperature[-1])
        surface_c += (flux - k * (surface_c - temperature[-1])) / (k - slope)
        into_skin = k * (surface_c - temperature[-1])
        np.multiply(temperature, half_k1, out=theta)
        theta += meat.k0
        theta *= temperature
        np.subtract(theta[1:], theta[:-1], out=flow)
        flow *= rate
        np.multiply(flow, mesh.outflow, out=part)
        temperature[:-1] += part
        np.multiply(flow, mesh.inflow, out=part)
        temperature[1:] -= part
        temperature[-1] += skin_rate * into_skin
    if watch is not None:
        watch(steps, temperature)
    return temperature
