"""Transient conduction in one radial dimension, for many bodies at once.

Finite volumes in the relative radius x = r / L of a body whose cross-section
grows as x^exponent (0 wall, 1 cylinder, 2 sphere, between them a bird), explicit
in time, with the conductivity's dependence on temperature carried by the
Kirchhoff transform (theta = integral of k dT). The surface has no heat capacity:
its temperature follows from the balance of conduction and what `Surface` gives.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Protocol

import numpy as np

from assistant.heat.bird.properties import Array, Meat


@dataclass(frozen=True, slots=True, eq=False)
class Grid:
    """`nodes` equal cells of bodies with the given exponents (any shape).

    Face area over cell volume and spacing of the inner faces, (nodes - 1, ...):
    `inflow` seen from the outer cell, `outflow` from the inner; `skin` (...): surface
    area over the outermost cell's volume.
    """

    nodes: int
    inflow: Array
    outflow: Array
    skin: Array
    stiffness: Array  # (...) largest exchange rate of a cell, units of alpha / L^2


class Surface(Protocol):
    """Heat into the surface."""

    def __call__(self, step: int, surface_c: Array) -> tuple[Array, Array]:
        """Flux in W/m2 and its derivative to the surface temperature, W/(m2 K)."""
        ...


def grid(nodes: int, exponent: Array | float) -> Grid:
    """A grid on the unit radius; `exponent` 0 wall, 1 cylinder, 2 sphere, of any shape."""
    power = np.asarray(exponent, dtype=float)
    dx = 1.0 / nodes
    faces = np.linspace(0.0, 1.0, nodes + 1).reshape(-1, *[1] * power.ndim)
    area = np.concatenate([np.zeros((1, *power.shape)), faces[1:] ** power])
    volume = np.diff(faces ** (power + 1.0), axis=0) / (power + 1.0)
    outflow = area[1:-1] / (volume[:-1] * dx)
    inflow = area[1:-1] / (volume[1:] * dx)
    rates = np.concatenate([outflow[:1], outflow[1:] + inflow[:-1]])
    return Grid(
        nodes=nodes, outflow=outflow, inflow=inflow, skin=area[-1] / volume[-1],
        stiffness=rates.max(axis=0),
    )  # fmt: skip


def stable_step_s(mesh: Grid, length_m: Array, meat: Meat, hottest_c: float = 200.0) -> float:
    """The longest time step that is stable for every body: a small one that waits on the
    spit for a large one gets nearly as hot as the grill."""
    alpha = meat.conductivity(hottest_c) / meat.rho_cp
    return float(0.98 * np.min(np.square(length_m) / (alpha * mesh.stiffness)))


def centre(temperature_c: Array) -> Array:
    """Temperature at the centre from cell temperatures (nodes, ...), by symmetry."""
    value: Array = (9.0 * temperature_c[0] - temperature_c[1]) / 8.0
    return value


def looking_at(nodes: int, places: Sequence[float]) -> Array:
    """Matrix (places, nodes) from cell temperatures to those at relative radii.

    The centre uses symmetry; other places interpolate between cell middles.
    """
    matrix = np.zeros((len(places), nodes))
    middle = (np.arange(nodes) + 0.5) / nodes
    for row, place in enumerate(places):
        if place == 0.0:
            matrix[row, :2] = 9.0 / 8.0, -1.0 / 8.0
            continue
        left = int(np.clip(np.searchsorted(middle, place) - 1, 0, nodes - 2))
        part = (place - middle[left]) * nodes
        matrix[row, left : left + 2] = 1.0 - part, part
    return matrix


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

    `start_c` is one temperature a body, or a profile (nodes, birds, particles).
    `watch(step, temperature)` sees the (nodes, birds, particles) temperatures
    before each step and after the last, and may stop the march by returning True.
    Returns the temperatures it ended with. Unstable if `dt_s` exceeds
    `stable_step_s`.
    """
    begin = np.shape(start_c)[-2:]
    shape = np.broadcast_shapes(np.shape(length_m), begin, mesh.skin.shape)
    dtype = np.result_type(length_m, start_c)
    temperature = np.empty((mesh.nodes, *shape), dtype)
    temperature[:] = start_c
    rate = dt_s / (meat.rho_cp * np.square(length_m))
    # Kirchhoff: d(theta) = k dT with k = k0 + k1 T; theta = k1/2 (T + 2 k0/k1) T.
    half_k1, shift = (0.5 * meat.k1, 2.0 * meat.k0 / meat.k1) if meat.k1 else (meat.k0, 0.0)
    outflow = (_fit(mesh.outflow, shape) * (rate * half_k1)).astype(dtype)
    inflow = (_fit(mesh.inflow, shape) * (rate * half_k1)).astype(dtype)
    conductance = 2.0 * mesh.nodes / np.asarray(length_m)
    k_at_0, k_rise = conductance * meat.k0, conductance * meat.k1
    skin_rate = (rate * length_m * mesh.skin).astype(dtype)
    theta = np.empty_like(temperature)
    flow, part = np.empty_like(theta[1:]), np.empty_like(theta[1:])
    inner, outer, under = temperature[:-1], temperature[1:], temperature[-1]
    theta_in, theta_out = theta[:-1], theta[1:]
    surface_c = under.copy()
    for step in range(steps):
        if watch is not None and watch(step, temperature):
            return temperature
        flux, slope = surface(step, surface_c)
        k = k_rise * under
        k += k_at_0
        gap = surface_c - under
        move = flux - k * gap
        move /= k - slope
        surface_c += move
        gap += move
        gap *= k
        gap *= skin_rate
        if meat.k1:
            np.add(temperature, shift, out=theta)
            theta *= temperature
        else:
            theta[:] = temperature
        np.subtract(theta_out, theta_in, out=flow)
        np.multiply(flow, outflow, out=part)
        inner += part
        np.multiply(flow, inflow, out=part)
        outer -= part
        under += gap
    if watch is not None:
        watch(steps, temperature)
    return temperature


def _fit(factor: Array, shape: tuple[int, ...]) -> Array:
    """Put a grid's (nodes - 1, ...) factor in line with arrays (nodes - 1, *shape)."""
    missing = len(shape) - (factor.ndim - 1)
    return factor.reshape(factor.shape[0], *[1] * missing, *factor.shape[1:])
