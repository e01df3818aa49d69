"""What is believed before the first reading, and where each figure comes from.

Every unknown is a log multiplier (start, shape: a sum) with three levels: of the
kitchen (the same grill, thermometer and butcher every time), of the cook (today)
and of the single bird. A kitchen's past cooks move and narrow the first level.
The medians are set so that times to 165 F agree with the published charts (FSIS,
oven at 350 F and indirect grill, 3 to 7 lb); no table for a spit was found.
"""

import math
from dataclasses import dataclass

import numpy as np

from assistant.heat.bird.evidence import BirdEvidence, Kitchen
from assistant.heat.bird.properties import Array


@dataclass(frozen=True, slots=True)
class Unknown:
    """Standard deviations by level, of the log (start: kelvin; shape: the exponent)."""

    name: str
    kitchen: float
    cook: float
    bird: float


UNKNOWNS = (
    # Heat transfer over coals: natural convection and radiation make 18 to 21 W/(m2 K)
    # on a 15 cm bird; direct radiation from coals and draught come on top.
    Unknown("surface", kitchen=0.30, cook=0.10, bird=0.06),
    # Effective length: a solid sphere needs 0.77 to 0.87 of its radius to fit the chart
    # without evaporation; a hollow body and a wet skin take more off it.
    Unknown("size", kitchen=0.08, cook=0.03, bird=0.06),
    Unknown("wet", kitchen=0.40, cook=0.30, bird=0.20),
    Unknown("start", kitchen=2.5, cook=2.5, bird=1.5),
    Unknown("probe", kitchen=0.40, cook=0.30, bird=0.25),
    # A breast over a cavity is nearly a wall, a leg a cylinder, a stuffed ball a sphere.
    # It says how the last part of the way compares with the first.
    Unknown("shape", kitchen=0.45, cook=0.20, bird=0.20),
)
NAMES = tuple(unknown.name for unknown in UNKNOWNS)
SHARED = len(UNKNOWNS)

SURFACE_GAIN = 1.2
LENGTH_OF_SPHERE = 0.61
WETNESS = 0.32
START_C = 7.0
PROBE_OFFSET = 0.35  # mean miss of a reading, of the rise from the centre to x = 0.4
SHAPE_EXPONENT = 0.85  # between a wall and a sphere
SHAPE_LIMITS = (0.1, 2.2)
DENSITY_KG_M3 = 1040.0

TYPICAL_MASS_KG = {"chicken": 2.2, "hen": 0.65, "duck": 2.3, "turkey": 5.5, "roast": 2.0}
# The charts give heavy classes more time than geometric likeness would: stouter birds.
PIVOT_KG, STOUTER = 2.0, 0.07
LIGHTEST_KG, HEAVIEST_KG = 0.3, 20.0  # what is roasted whole on a spit
UNWEIGHED_SIZE_SD = 0.12  # a third of the log scatter of weights within a kind


def sphere_radius_m(mass_kg: float) -> float:
    """Radius of a solid sphere of this mass."""
    return float((3.0 * mass_kg / (4.0 * math.pi * DENSITY_KG_M3)) ** (1.0 / 3.0))


def median_length_m(bird: BirdEvidence) -> float:
    """Effective length from surface to coldest spot."""
    mass_kg = bird.mass_kg or TYPICAL_MASS_KG.get(bird.kind, TYPICAL_MASS_KG["chicken"])
    mass_kg = min(max(mass_kg, LIGHTEST_KG), HEAVIEST_KG)
    return float(LENGTH_OF_SPHERE * sphere_radius_m(mass_kg) * (mass_kg / PIVOT_KG) ** STOUTER)


def size_sd(bird: BirdEvidence) -> float:
    """Log scatter of the effective length of one bird among its fellows."""
    own = UNKNOWNS[NAMES.index("size")].bird
    return own if bird.mass_kg else math.hypot(own, UNWEIGHED_SIZE_SD)


def shared_prior(kitchen: Kitchen) -> tuple[Array, Array]:
    """Mean (6,) and covariance (6, 6) of the shared unknowns in this kitchen."""
    mean = np.zeros(SHARED)
    between = np.diag([unknown.kitchen**2 for unknown in UNKNOWNS])
    learned = [one for one in kitchen.shift if one[0] in NAMES]  # the fire's are not of a bird
    known = [NAMES.index(name) for name, _, _ in learned]
    if known:
        mean[known] = [shift for _, shift, _ in learned]
        sd = np.array([spread for _, _, spread in learned])
        ties = np.array(kitchen.ties) if kitchen.ties else np.eye(len(known))
        between[np.ix_(known, known)] = ties * np.outer(sd, sd)
    return mean, between + kitchen.scatter**2 * np.diag([one.cook**2 for one in UNKNOWNS])
