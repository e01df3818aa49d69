"""What a bird's coldest spot does once it is off the heat: it rises, then cools.

The rise is computed from the temperature profile the roast left behind, not from a
rule of thumb: the bird is roasted in the model until its coldest spot stands where
it was read, and is then left in the open air. Flesh below the crust holds water, so
at the moment it leaves the heat nothing in it is taken as hotter than boiling.
"""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from assistant.heat.bird import conduction, priors
from assistant.heat.bird.evidence import BirdEvidence
from assistant.heat.bird.properties import Array, lean_chicken
from assistant.heat.bird.skin import Skin

NODES = 8
LONGEST_ROAST_S = 6 * 3600.0
AFTER_S = 5400.0
GAINS = (1.3, 1.0, 0.75)  # a fiercer fire leaves a steeper profile, and more rise
FIRE_WETNESS = 0.32  # of a skin over the fire
WETNESS = 1.0  # a resting bird steams from its skin and its cavity
BOILS_C = 99.0
HOLD_C = 60.0  # 140 F, the public limit for keeping hot
# A solid body bounds the rise from above. A bird is hollow and steams through its
# cavity: the share of the solid's rise it keeps is a judgement, no source (kitchen
# lore says 5 to 10 F, unverified), so the range is wide.
HOLLOW = (0.25, 0.5, 1.0)
SOLID = (1.0, 1.0, 1.0)


@dataclass(frozen=True, slots=True)
class CarryOver:
    """`peak_c`: low, usual and high value of the coldest spot at its highest;
    `peak_s` after leaving the heat (usual). `cool_s`: when it falls below 60 C
    (140 F) in the usual case; None: not within an hour and a half."""

    peak_c: tuple[float, float, float]
    peak_s: float
    cool_s: float | None


@lru_cache(maxsize=64)
def carry_over(
    core_c: float, mass_kg: float | None, kind: str, air_c: float, outside_c: float
) -> CarryOver | None:
    """Forecast the coldest spot from `core_c` at the moment it leaves air of `air_c`.

    None where the model cannot bring that bird to `core_c` in that air.
    """
    length_m = priors.median_length_m(BirdEvidence(1, kind=kind, mass_kg=mass_kg))
    profile = _roasted(core_c, length_m, air_c, outside_c)
    if profile is None:
        return None
    times_s, core = _rested(np.minimum(profile, BOILS_C), length_m, outside_c)
    shares = SOLID if kind == "roast" else HOLLOW
    rises_c = np.sort(np.maximum(core.max(axis=0) - core_c, 0.0)) * shares
    usual = core[:, 1]
    top = int(np.argmax(usual))
    cool = np.flatnonzero(usual[top:] < HOLD_C)
    low, middle, high = (core_c + float(one) for one in rises_c)
    return CarryOver(
        (low, middle, high),
        float(times_s[top]),
        float(times_s[top + cool[0]]) if cool.size else None,
    )


def _roasted(core_c: float, length_m: float, air_c: float, outside_c: float) -> Array | None:
    """Temperature profiles (nodes, 3) when each version's coldest spot is at `core_c`."""
    ones = np.ones((1, 3))
    mesh = conduction.grid(NODES, priors.SHAPE_EXPONENT)
    dt_s = conduction.stable_step_s(mesh, length_m * ones, lean_chicken())
    steps = int(LONGEST_ROAST_S / dt_s)
    skin = _skin(np.array([GAINS]) * priors.SURFACE_GAIN, dt_s, steps, outside_c, air_c=air_c)
    found = np.full((NODES, 3), np.nan)

    def watch(_: int, temperature_c: Array) -> bool:
        there = conduction.centre(temperature_c)[0] >= core_c
        fresh = there & np.isnan(found[0])
        found[:, fresh] = temperature_c[:, 0, fresh]
        return bool(there.all())

    conduction.march(
        mesh, lean_chicken(), length_m * ones, priors.START_C * ones, skin, dt_s, steps, watch
    )
    return None if np.isnan(found).any() else found


def _rested(profile_c: Array, length_m: float, outside_c: float) -> tuple[Array, Array]:
    """Times (k,) and coldest spots (k, 3) of profiles (nodes, 3) left in open air."""
    mesh = conduction.grid(NODES, priors.SHAPE_EXPONENT)
    lengths = np.full((1, 3), length_m)
    dt_s = conduction.stable_step_s(mesh, lengths, lean_chicken())
    steps = int(AFTER_S / dt_s)
    skin = _skin(np.ones((1, 3)), dt_s, steps, outside_c, air_c=None)
    core: Array = np.empty((steps + 1, 3))

    def watch(step: int, temperature_c: Array) -> bool:
        core[step] = conduction.centre(temperature_c)[0]
        return False

    start_c = profile_c[:, None, :]
    conduction.march(mesh, lean_chicken(), lengths, start_c, skin, dt_s, steps, watch)
    return dt_s * np.arange(steps + 1), core


def _skin(gain: Array, dt_s: float, steps: int, outside_c: float, *, air_c: float | None) -> Skin:
    """The surface in the fire's air, or (`air_c` None) in the open."""
    on = np.full((steps, 1), 0.0 if air_c is None else 1.0)
    return Skin(
        gain=gain,
        wet=np.full((1, 3), FIRE_WETNESS if air_c is not None else WETNESS),
        on=on,
        off=1.0 - on,
        fire_c=np.full((steps, 3), outside_c if air_c is None else air_c),
        outside_c=outside_c,
        dt_s=dt_s,
    )
