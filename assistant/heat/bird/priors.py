"""What is believed before the first reading, and where each figure comes from.

Every unknown is a log multiplier (start: kelvin; shape: the exponent; drift: see
`roast`) with three levels: of the kitchen (the same grill, thermometer and butcher
every time), of the cook (today) and of the single bird. A kitchen's past cooks move
and narrow the first level.
"""

import math
from dataclasses import dataclass

import numpy as np

from assistant.heat.bird.evidence import BirdEvidence, HeatKind, Kitchen
from assistant.heat.bird.properties import Array
from assistant.heat.bird.sources import SOURCES


@dataclass(frozen=True, slots=True)
class Unknown:
    """Standard deviations by level, of the log (start: kelvin; shape: the exponent)."""

    name: str
    kitchen: float
    cook: float
    bird: float


UNKNOWNS = (
    # Heat transfer at the skin: draught, wind, how near the walls are.
    Unknown("surface", kitchen=0.15, cook=0.07, bird=0.05),
    # Effective length: a solid sphere needs 0.77 to 0.87 of its radius to fit the chart
    # without evaporation; a hollow body and a wet skin take more off it.
    Unknown("size", kitchen=0.07, cook=0.025, bird=0.055),
    Unknown("wet", kitchen=0.25, cook=0.15, bird=0.10),
    Unknown("start", kitchen=2.5, cook=2.5, bird=1.5),
    Unknown("probe", kitchen=0.80, cook=0.30, bird=0.30),
    # A breast over a cavity is nearly a wall, a leg a cylinder, a stuffed ball a sphere.
    # It says how the last part of the way compares with the first.
    Unknown("shape", kitchen=0.25, cook=0.10, bird=0.12),
    # What the bird feels beside what the dial shows: where the dial sits, and how much
    # of the coals the bird sees.
    Unknown("dial", kitchen=0.08, cook=0.04, bird=0.02),
    # What an open lid costs: depth and recovery of the dip together.
    Unknown("lid", kitchen=0.50, cook=0.15, bird=0.0),
    # What the model has wrong, as a slow curve on log time: how much later parts of the
    # way are quicker than foretold, and earlier ones slower.
    Unknown("drift", kitchen=0.13, cook=0.08, bird=0.06),
    # The thigh's length beside the breast's; dark meat near the joint.
    Unknown("thigh", kitchen=0.08, cook=0.03, bird=0.06),
)
NAMES = tuple(unknown.name for unknown in UNKNOWNS)
SHARED = len(UNKNOWNS)
SIZE = NAMES.index("size")

SURFACE_GAIN = 1.2  # of the marching solver's skin, for carry-over
LENGTH_OF_SPHERE = 0.58
START_C = 7.0
SHAPE_EXPONENT = 0.85  # at which the lengths above are a body's
SHAPE = 1.0  # 0 a wall, 1 a cylinder, 2 a ball: a breast over its cavity is about between
MISSED = 0.3  # mean miss in a bird of 2.2 kg, of the rise from the centre to x = 0.4
SHAPE_LIMITS = (0.1, 2.2)
THIGH_LENGTH = 0.96  # of the breast's; common practice reads thighs warmer, no source
DENSITY_KG_M3 = 1040.0

TYPICAL_MASS_KG = {"chicken": 2.2, "hen": 0.65, "duck": 2.3, "turkey": 5.5, "roast": 2.0}
PIVOT_KG = 2.0
LIGHTEST_KG, HEAVIEST_KG = 0.3, 20.0  # what is roasted whole on a spit
# A broiler is printed as 19 to 20 minutes a pound, a roasting hen of up to 7 lb as 18 to 25
# (tests/references/roasting_times.csv): what a chicken beyond 6 lb is differs more.
ROASTER_KG, ROASTERS_KG, ROASTER_SIZE_SD = 2.75, 3.15, 0.20
UNWEIGHED_SIZE_SD = 0.12  # a third of the log scatter of weights within a kind


def sphere_radius_m(mass_kg: float) -> float:
    """Radius of a solid sphere of this mass."""
    return float((3.0 * mass_kg / (4.0 * math.pi * DENSITY_KG_M3)) ** (1.0 / 3.0))


def median_length_m(bird: BirdEvidence, heat: HeatKind = "charcoal spit") -> float:
    """Effective length from surface to coldest spot, as this heat reaches it."""
    mass_kg = bird.mass_kg or TYPICAL_MASS_KG.get(bird.kind, TYPICAL_MASS_KG["chicken"])
    mass_kg = min(max(mass_kg, LIGHTEST_KG), HEAVIEST_KG)
    heavier = (mass_kg / PIVOT_KG) ** SOURCES[heat].stouter
    return float(LENGTH_OF_SPHERE * sphere_radius_m(mass_kg) * heavier)


def size_sd(bird: BirdEvidence) -> float:
    """Log scatter of the effective length of one bird among its fellows."""
    own = UNKNOWNS[SIZE].bird
    if not bird.mass_kg:
        return math.hypot(own, UNWEIGHED_SIZE_SD)
    if bird.kind == "chicken" and bird.mass_kg > ROASTER_KG:
        heavier = min((bird.mass_kg - ROASTER_KG) / (ROASTERS_KG - ROASTER_KG), 1.0)
        return math.hypot(own, ROASTER_SIZE_SD * heavier)
    return own


def own_sd(bird: BirdEvidence) -> Array:
    """Scatter of one bird's unknowns among its fellows (SHARED,)."""
    sd = np.array([unknown.bird for unknown in UNKNOWNS])
    sd[SIZE] = size_sd(bird)
    return sd


def between_kitchens(heat: HeatKind) -> Array:
    """Covariance of the kitchens' own values over one kind of heat (SHARED, SHARED)."""
    wider = SOURCES[heat].kitchens
    return np.diag([(wider * unknown.kitchen) ** 2 for unknown in UNKNOWNS])


def shared_prior(kitchen: Kitchen, heat: HeatKind = "charcoal spit") -> tuple[Array, Array]:
    """Mean (SHARED,) and covariance of the unknowns all birds share, over this heat."""
    mean = np.zeros(SHARED)
    between = between_kitchens(heat)
    shift, ties = kitchen.over(heat)
    learned = [one for one in shift if one[0] in NAMES]  # the fire's are not of a bird
    known = [NAMES.index(name) for name, _, _ in learned]
    if known:
        mean[known] = [value for _, value, _ in learned]
        sd = np.array([spread for _, _, spread in learned])
        tied = np.array(ties) if ties else np.eye(len(known))
        between[np.ix_(known, known)] = tied * np.outer(sd, sd)
    return mean, between + kitchen.scatter**2 * np.diag([one.cook**2 for one in UNKNOWNS])
