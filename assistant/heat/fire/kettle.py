"""A kettle grill with charcoal burning down, as a cloud of particles.

Energy balance, all SI: steel of heat capacity C at the grill's temperature T,

    C dT/dt = P - U (T - outside) - birds,    P = S A / (S + A).

S is what the lit pieces would give with all the air they could use, A what the
air through the vents allows: a small fire is short of fuel, a heap is short of
air. A spit ring leaks, so A never goes to nothing with the vents shut. A piece
shrinks as mass = (1 - s)^(1 + p), its progress s running with the air it gets; p,
how long its tail is, lies between diffusion through ash (1/2) and a ball shrinking
at constant pace (2). A fresh piece gives nothing until it has caught, and coals
follow a change of their air by REACT_S. A slow random walk of A stands for wind,
ash and doors nobody told about.

The prior comes from a heat balance of a 57 cm kettle at 188 C (derived from
remembered inputs, so a wide prior and no more) and is moved by past cooks.
"""

from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from assistant.heat.bird.evidence import Kitchen

Floats = NDArray[np.float64]

# Median and spread (sd of the log) of each unknown.
PRIOR: tuple[tuple[str, float, float], ...] = (
    ("fire_heat", 0.41e6, 0.20),  # J left in the kettle by one 25 g briquette
    ("fire_loss", 8.5, 0.15),  # W/K through the wall
    ("fire_air", 2600.0, 0.30),  # W the air allows with both vents half open
    ("fire_life", 4500.0, 0.22),  # s a briquette lasts with all the air it can use
    ("fire_steel", 8000.0, 0.25),  # J/K
    ("fire_birds", 0.6, 0.30),  # on the birds' load: a dial was seen to fall 36 F
    ("fire_catch", 750.0, 0.10),  # s until a fresh briquette burns
    ("fire_ready", 1100.0, 0.35),  # s from the match to an ash-covered first pile
    ("fire_start", 55.0, 0.35),  # briquettes in a fire nobody counted
    ("fire_count", 1.0, 0.08),  # on a counted load: pieces differ in mass
    ("fire_leak", 0.5, 0.60),  # air past the vents, against both half open
    ("fire_tail", 0.8, 0.40),  # p: how slowly a piece goes out
    ("fire_bottom", 0.5, 0.50),  # open fraction of a bottom vent nobody told of; at most 1
    ("fire_top", 0.5, 0.50),  # and of the top vent
)
# Heat and life of one piece against one briquette, and its catching time.
HEAT = {"briquettes": 1.0, "lump": 1.6, "chimney": 80.0}
LIFE = {"briquettes": 1.0, "lump": 0.65, "chimney": 1.0}
CATCH = {"briquettes": 1.0, "lump": 0.6, "chimney": 0.0}

AIR_WALK_SD = 0.065  # of log A, over AIR_WALK_S
AIR_WALK_S = 3600.0
GUSTY = 4.0  # so many times the walk in a wind: a guess, no source
LID_LOSS = 3.0  # the wall loss with the lid off, against lid on
LID_AIR = 1.6
BIRD_W = 216.0  # one 1.95 kg bird at 188 C: half of "two birds"
BIRD_KG = 1.95
BIRD_SURFACE_C = 80.0
MOST_LOAD = 0.35  # of the wall's loss: however many birds, the grill falls by no more than 28 C
REACT_S = 600.0  # reported: vents opened fully did nothing for ten minutes


@dataclass(frozen=True, slots=True)
class Batch:
    """Pieces that went on together. `count` None: nobody counted. `from_lit`: the
    pile the fire was lit with, which needs longer to be ready."""

    at_s: float
    count: float | None
    kind: str = "briquettes"
    from_lit: bool = False


@dataclass(slots=True)
class Cloud:
    """Particles at one instant; the last axis is the particle.

    `unknown` (parameters, n) holds logs in PRIOR's order; `began` (batches, n)
    is the burn clock at which each batch caught, infinite before.
    """

    unknown: Floats
    air_walk: Floats
    temperature_c: Floats
    clock: Floats
    began: Floats
    draught: Floats  # the air the coals answer to, against both vents half open
    value: dict[str, Floats] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.value = {
            name: np.exp(row) for (name, _, _), row in zip(PRIOR, self.unknown, strict=True)
        }

    def take(self, index: NDArray[np.intp]) -> "Cloud":
        """Return the particles at `index`."""
        return Cloud(
            self.unknown[:, index],
            self.air_walk[..., index],
            self.temperature_c[..., index],
            self.clock[..., index],
            self.began[..., index],
            self.draught[..., index],
        )


@dataclass(frozen=True, slots=True)
class Weather:
    """What holds during one step: the time at its middle, its length, the open
    share of the lid, the vents' open fractions (None: nobody told), birds' summed load
    at 188 C, and how much wider than usual the air walks."""

    middle_s: float
    step_s: float
    lid_open: float
    bottom: float | Floats | None
    top: float | None
    birds_w: float
    outside_c: float
    gusts: float = 1.0


def prior_cloud(
    n: int, batches: int, outside_c: float, kitchen: Kitchen, rng: np.random.Generator
) -> Cloud:
    """Draw `n` grills, cold and unlit. Past cooks replace the prior where they speak."""
    learned = {name: (mean, sd) for name, mean, sd in kitchen.shift}
    rows = np.empty((len(PRIOR), n))
    for row, (name, median, sd) in zip(rows, PRIOR, strict=True):
        shift, spread = learned.get(name, (0.0, sd))
        row[:] = np.log(median) + shift + spread * rng.standard_normal(n)
    walk = AIR_WALK_SD * rng.standard_normal(n)
    unlit = np.full((batches, n), np.inf)
    return Cloud(rows, walk, np.full(n, outside_c), np.zeros(n), unlit, np.ones(n))


def catch_s(cloud: Cloud, batch: Batch) -> Floats:
    """Return how long after `at_s` a batch burns, per particle."""
    if batch.from_lit:
        return cloud.value["fire_ready"]
    return cloud.value["fire_catch"] * CATCH[batch.kind]


def heat_j(cloud: Cloud, batch: Batch) -> Floats:
    """Return the heat a batch leaves in the kettle, per particle."""
    if batch.count is None:
        return cloud.value["fire_start"] * cloud.value["fire_heat"]
    pieces = batch.count * HEAT[batch.kind]
    return np.asarray(pieces * cloud.value["fire_count"] * cloud.value["fire_heat"])


@dataclass(frozen=True, slots=True)
class Pile:
    """All batches against one cloud: arrays (batches, [scenarios,] n)."""

    full_w: Floats  # what each would give fresh, fully lit, with all the air
    start_s: Floats  # when half of it burns
    ramp_s: Floats  # how long its catching takes around that
    pace: Floats  # burn clock's pace against a briquette's


def pile_of(cloud: Cloud, batches: tuple[Batch, ...]) -> Pile:
    """Return the batches' constants for a cloud."""
    n = cloud.unknown.shape[1]
    life_s = cloud.value["fire_life"]
    full, start, ramp, pace = (np.zeros((len(batches), n)) for _ in range(4))
    for i, batch in enumerate(batches):
        wait_s = catch_s(cloud, batch)
        peak = 1.0 + cloud.value["fire_tail"]  # of the mean over its life
        full[i] = peak * heat_j(cloud, batch) / (life_s * LIFE[batch.kind])
        start[i] = batch.at_s + 0.7 * wait_s
        ramp[i] = np.maximum(0.6 * wait_s, 60.0)
        pace[i] = 1.0 / LIFE[batch.kind]
    return Pile(full, start, ramp, pace)


def in_scenarios(pile: Pile, counts: Floats | None = None) -> Pile:
    """Return the pile with a scenario axis: arrays (batches, d or 1, n).

    `counts` (d,) multiplies the last batch, which then stands for one piece.
    """
    full = pile.full_w[:, None, :]
    if counts is not None:
        full = np.repeat(full, counts.size, axis=1)
        full[-1] *= counts[:, None]
    start, ramp, pace = (a[:, None, :] for a in (pile.start_s, pile.ramp_s, pile.pace))
    return Pile(full, start, ramp, pace)


def step(cloud: Cloud, pile: Pile, weather: Weather, kick: Floats) -> Floats:
    """Advance the cloud by one step in place; return the fire's power, W.

    `kick` (n,) is standard normal noise for the air's slow walk.
    """
    keep = np.exp(-weather.step_s / AIR_WALK_S)
    walk_sd = AIR_WALK_SD * weather.gusts * np.sqrt(1.0 - keep**2)
    cloud.air_walk = keep * cloud.air_walk + walk_sd * kick
    lit = np.clip((weather.middle_s - pile.start_s) / pile.ramp_s + 0.5, 0.0, 1.0)
    fresh = (lit > 0.0) & np.isinf(cloud.began)
    cloud.began = np.where(fresh, cloud.clock, cloud.began)
    progress = np.where(np.isinf(cloud.began), 0.0, (cloud.clock - cloud.began) * pile.pace)
    left = np.maximum(1.0 - progress, 0.0) ** cloud.value["fire_tail"]
    wanted_w = (pile.full_w * lit * left).sum(axis=0)
    lid_air = 1.0 + (LID_AIR - 1.0) * weather.lid_open
    leak = cloud.value["fire_leak"]
    target = (_vents_of(cloud, weather) * lid_air + leak) / (1.0 + leak)
    cloud.draught = target + (cloud.draught - target) * np.exp(-weather.step_s / REACT_S)
    air_w = cloud.value["fire_air"] * np.exp(cloud.air_walk) * cloud.draught
    share = air_w / (air_w + wanted_w)
    cloud.clock = cloud.clock + weather.step_s * share / cloud.value["fire_life"]
    power_w = wanted_w * share
    loss = cloud.value["fire_loss"] * (1.0 + (LID_LOSS - 1.0) * weather.lid_open)
    # The birds' load grows with the air above their wet surface: as a conductance
    # it only adds to the loss, so the step stays an exact exponential.
    birds = weather.birds_w / (188.0 - BIRD_SURFACE_C) * cloud.value["fire_birds"]
    birds = np.minimum(birds, MOST_LOAD * cloud.value["fire_loss"])
    birds = np.where(cloud.temperature_c > BIRD_SURFACE_C, birds, 0.0)
    rest_c = (power_w + loss * weather.outside_c + birds * BIRD_SURFACE_C) / (loss + birds)
    fade = np.exp(-weather.step_s * (loss + birds) / cloud.value["fire_steel"])
    cloud.temperature_c = rest_c + (cloud.temperature_c - rest_c) * fade
    return np.asarray(power_w)


def _vents_of(cloud: Cloud, weather: Weather) -> Floats:
    """Return the vents' relative air; a vent nobody told of is another in each particle."""
    untold = (np.minimum(cloud.value[name], 1.0) for name in ("fire_bottom", "fire_top"))
    told = (weather.bottom, weather.top)
    return vents_air(*(
        own if said is None else said for own, said in zip(untold, told, strict=True)
    ))  # fmt: skip


def vents_air(bottom: float | Floats, top: float | Floats) -> Floats:
    """Return the air two vents in series let through, 1 with both half open.

    Orifices one after the other; a shut vent still leaks a little.
    """
    bottom, top = np.maximum(bottom, 0.04), np.maximum(top, 0.04)
    return np.asarray(np.sqrt(8.0 / (bottom**-2.0 + top**-2.0)))


def branch(cloud: Cloud, scenarios: int, *, new_batch: bool) -> Cloud:
    """Return the cloud copied into scenarios: arrays (scenarios, n); `began` gains
    a row for a batch still to come where asked."""
    n = cloud.unknown.shape[1]
    began = np.repeat(cloud.began[:, None, :], scenarios, axis=1)
    if new_batch:
        began = np.concatenate([began, np.full((1, scenarios, n), np.inf)])
    return Cloud(
        cloud.unknown,
        cloud.air_walk,
        np.tile(cloud.temperature_c, (scenarios, 1)),
        np.tile(cloud.clock, (scenarios, 1)),
        began,
        np.tile(cloud.draught, (scenarios, 1)),
    )
