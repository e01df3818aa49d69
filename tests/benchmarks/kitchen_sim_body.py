"""Birds of the benchmark: hollow ellipsoids, conduction on a 2-D mesh, many at once.

Cylinder coordinates about the spit: r (nr cells) and half the length z (nz cells),
bodies last, as (nr, nz, bodies). Staircase surfaces are scaled to the true area.
A fat skin over the meat, coals seen by part of it, walls cooler than the air, a
pool of surface water that dries linearly, and warm air drawn through the cavity.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from tests.benchmarks.kitchen_sim_world import Array, BirdDraw

NR, NZ = 12, 13
SIGMA = 5.670374e-8
COALS_K = 900.0
DENSITY = 1040.0
SKIN_K = 0.25
CAVITY_H = 5.0
MOIST_CAVITY_C = 95.0  # steam and drippings hold the air inside below boiling

NDArrayBool = NDArray[np.bool_]


@dataclass
class Mesh:
    """Geometry and properties of all bodies; conductances in W/K per kelvin."""

    radial: Array  # (nr - 1, nz, n)
    axial: Array
    capacity: Array  # J/K, inf where there is no meat
    meat: NDArrayBool
    skin_cells: Array
    skin_area: Array
    cavity_area: Array
    conduct: Array  # W/(m2 K) from skin to the middle of its cell
    r: Array
    z: Array
    body_of: Array


def ellipsoid_area(b: Array, a: Array) -> Array:
    """Knud Thomsen's formula, half of a spheroid with radius b and half length a."""
    p = 1.6075
    return 2.0 * np.pi * ((b ** (2 * p) + 2.0 * (a * b) ** p) / 3.0) ** (1.0 / p)


def build(birds: Sequence[BirdDraw]) -> Mesh:
    """Mesh the birds so that each holds half its mass (the other half mirrors it)."""
    aspect = np.array([bird.aspect for bird in birds])
    hollow = np.array([bird.cavity for bird in birds])
    rho = (np.arange(NR) + 0.5)[:, None, None] / NR
    zeta = (np.arange(NZ) + 0.5)[None, :, None] / NZ
    body = rho**2 + zeta**2 <= 1.0
    hole = (rho / hollow) ** 2 + (zeta / np.minimum(1.6 * hollow, 0.85)) ** 2 < 1.0
    meat = body & ~hole
    volume1 = 2.0 * np.pi * rho * (1.0 / NR) * (aspect / NZ) * meat
    half_mass = np.array([bird.mass_kg for bird in birds]) * 0.5
    b = (half_mass / DENSITY / volume1.sum(axis=(0, 1))) ** (1.0 / 3.0)
    a = b * aspect
    dr, dz = b / NR, a / NZ
    k = np.array([bird.k for bird in birds])
    alpha = np.array([bird.alpha for bird in birds])
    faces = (np.arange(1, NR) / NR)[:, None, None]
    radial = k * 2.0 * np.pi * faces * b * dz / dr * (meat[1:] & meat[:-1])
    ring = 2.0 * np.pi * rho * b * dr
    axial = k * ring / dz * (meat[:, 1:] & meat[:, :-1])
    capacity = np.where(meat, k / alpha * volume1 * b**3, np.inf)
    outer, inner = _exposed(meat, body, hole, b, dr, dz, rho)
    outer *= ellipsoid_area(b, a) / outer.sum(axis=(0, 1))
    skin = np.flatnonzero(outer > 0)
    body_of = np.broadcast_to(np.arange(len(birds)), outer.shape).ravel()[skin]
    depth = np.sqrt(dr * dz)[body_of] / 2.0
    thick = np.array([bird.skin_m for bird in birds])[body_of]
    return Mesh(
        radial=radial, axial=axial, capacity=capacity, meat=meat, skin_cells=skin,  # type: ignore[arg-type]
        skin_area=outer.ravel()[skin], cavity_area=inner * 0.85,
        conduct=1.0 / (depth / k[body_of] + thick / SKIN_K),
        r=rho * b + 0 * zeta, z=zeta * a + 0 * rho, body_of=body_of,  # type: ignore[arg-type]
    )  # fmt: skip


def _exposed(
    meat: NDArrayBool, body: NDArrayBool, hole: NDArrayBool, b: Array, dr: Array, dz: Array,
    rho: Array,
) -> tuple[Array, Array]:  # fmt: skip
    """Areas towards the outside and towards the cavity, cell by cell."""
    out = ~np.broadcast_to(body, meat.shape)
    outer, inner = np.zeros(meat.shape), np.zeros(meat.shape)
    side = 2.0 * np.pi * b * dz
    ring = 2.0 * np.pi * rho * b * dr
    upper = (np.arange(1, NR + 1) / NR)[:, None, None]
    for area, where in ((outer, out), (inner, hole)):
        beyond = np.zeros_like(meat)
        beyond[:-1] = where[1:]
        beyond[-1] = area is outer
        area[...] += np.where(meat & beyond, side * upper, 0.0)
        below = np.zeros_like(meat)
        below[1:] = where[:-1]
        area[...] += np.where(meat & below, side * (upper - 1.0 / NR), 0.0)
        after = np.zeros_like(meat)
        after[:, :-1] = where[:, 1:]
        after[:, -1] = area is outer
        before = np.zeros_like(meat)
        before[:, 1:] = where[:, :-1]
        area[...] += np.where(meat & after, ring, 0.0) + np.where(meat & before, ring, 0.0)
    return outer, inner


@dataclass
class Weather:
    """What surrounds each body during one tick, arrays (n,)."""

    air_c: Array
    over_fire: Array  # 1 over the fire, 0 off it
    outside_c: Array
    convection: Array
    coals_view: Array
    wall_lag: Array
    humidity: Array
    seep: Array
    pool: Array
    cavity_air: Array


def tick(mesh: Mesh, core: Array, skin_c: Array, water: Array, now: Weather, dt_s: float) -> None:
    """Advance temperatures (nr, nz, n), skin temperatures and water in place."""
    body = mesh.body_of
    on = now.over_fire[body]
    out = now.outside_c[body]
    air = np.where(on > 0, now.air_c[body], out)
    h = np.where(on > 0, now.convection[body], 8.0)
    kelvin = skin_c + 273.15
    wall = np.where(on > 0, out + now.wall_lag[body] * (air - out), out) + 273.15
    view = now.coals_view[body] * on
    radiant = 0.92 * SIGMA * ((1 - view) * (wall**4 - kelvin**4) + view * (COALS_K**4 - kelvin**4))
    pressure = 611.2 * np.exp(17.62 * skin_c / (skin_c + 243.12))
    vapour = pressure / (461.5 * kelvin)
    left = np.clip(water / now.pool[body], 0.0, 1.0)
    wet = now.seep[body] + (1.0 - now.seep[body]) * left
    moist = np.where(on > 0, now.humidity[body], 0.01)
    per_h = 1.05e-3 * h * 0.33  # part of the skin is fat and repels water
    leaving = wet * per_h * np.maximum(vapour - moist, 0.0)
    latent = 2.35e6 * leaving
    flux = h * (air - skin_c) + radiant - latent
    steep = (
        h
        + 4.0 * 0.92 * SIGMA * kelvin**3
        + 2.35e6 * wet * per_h * vapour * (17.62 * 243.12 / (skin_c + 243.12) ** 2)
    )
    under = core.ravel()[mesh.skin_cells]
    skin_c += (flux - mesh.conduct * (skin_c - under)) / (mesh.conduct + steep)
    water -= dt_s * leaving
    gain = np.zeros(core.shape)
    gain.ravel()[mesh.skin_cells] += mesh.skin_area * mesh.conduct * (skin_c - under)
    drawn = np.where(now.over_fire > 0, np.minimum(now.air_c, MOIST_CAVITY_C), now.outside_c)
    gain += mesh.cavity_area * CAVITY_H * now.cavity_air * (drawn - core)
    flow = mesh.radial * (core[1:] - core[:-1])
    gain[:-1] += flow
    gain[1:] -= flow
    flow = mesh.axial * (core[:, 1:] - core[:, :-1])
    gain[:, :-1] += flow
    gain[:, 1:] -= flow
    core += dt_s * gain / mesh.capacity


def coldest(mesh: Mesh, core: Array) -> Array:
    """Temperature of each body's coldest meat (n,)."""
    return np.where(mesh.meat, core, np.inf).min(axis=(0, 1))


def at_probe(mesh: Mesh, core: Array, body: int, miss_r: float, miss_z: float) -> float:
    """Temperature of the meat nearest to the coldest spot moved by (miss_r, miss_z)."""
    here = np.where(mesh.meat[..., body], core[..., body], np.inf)
    i, j = np.unravel_index(int(here.argmin()), here.shape)
    r, z = mesh.r[..., body], mesh.z[..., body]
    away = (r - r[i, j] - miss_r) ** 2 + (z - z[i, j] - miss_z) ** 2
    away = np.where(mesh.meat[..., body], away, np.inf)
    weight = 1.0 / (away + 1e-6)
    nearest = np.argsort(away, axis=None)[:4]
    w = weight.ravel()[nearest]
    return float((here.ravel()[nearest] * w).sum() / w.sum())
