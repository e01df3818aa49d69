"""What a reading would say at a moment: a heavy-tailed predictive density.

The prior of speech recognition, and the measure behind "did you really mean".
"""

import math
from dataclasses import dataclass

import numpy as np
from scipy.special import gammaln, stdtr

from assistant.heat.bird import air, probe
from assistant.heat.bird.ensemble import at_time, core_at, ensemble, weighted_quantiles
from assistant.heat.bird.evidence import Evidence
from assistant.heat.bird.properties import Array

TAIL = 4.0
EXPONENTIAL_LEVELS = (np.arange(8) + 0.5) / 8.0
CARRIED_S = 1800.0  # how long a forecast is good for judging readings
ONE_SIGMA = (0.159, 0.5, 0.841)
UNKNOWN_BIRD = (40.0, 30.0)  # C, of a bird nobody has told of


@dataclass(frozen=True, slots=True)
class ReadingDensity:
    """Student's t about `middle_c` with scale `scale_c`, and a share of wild readings."""

    middle_c: float
    scale_c: float

    def log_pdf(self, temperature_c: float) -> float:
        """Log density per kelvin."""
        z = (temperature_c - self.middle_c) / self.scale_c
        log_t = (
            gammaln(0.5 * (TAIL + 1.0)) - gammaln(0.5 * TAIL) - 0.5 * math.log(TAIL * math.pi)
            - 0.5 * (TAIL + 1.0) * math.log1p(z * z / TAIL)
        )  # fmt: skip
        density = (1.0 - probe.WILD_SHARE) * math.exp(
            log_t
        ) / self.scale_c + probe.WILD_SHARE / probe.WILD_SPAN_C
        return math.log(density)

    def tail_probability(self, temperature_c: float) -> float:
        """Chance that an honest reading lies at least this far out, either side."""
        z = abs(temperature_c - self.middle_c) / self.scale_c
        return float(2.0 * stdtr(TAIL, -z))


def core_density(
    evidence: Evidence, bird_number: int, at_s: float, as_of_s: float | None = None
) -> ReadingDensity:
    """What a reading of this bird would say at `at_s`.

    `as_of_s` is the moment of the forecast carried forward to `at_s`; None: the last
    moment on record, whose ensemble the evening's forecast has usually left behind.
    """
    numbers = [bird.number for bird in evidence.birds]
    if bird_number not in numbers:
        return ReadingDensity(*UNKNOWN_BIRD)
    index = numbers.index(bird_number)
    if as_of_s is None:
        last_s = last_moment_s(evidence)
        as_of_s = last_s if last_s <= at_s <= last_s + CARRIED_S else at_s
    cloud = ensemble(evidence, as_of_s)
    core = core_at(cloud, index, at_s)
    rise = at_time(cloud.tracks.at_s, cloud.tracks.rise_c[:, index], at_s)
    miss = probe.mean_miss_c(cloud.offset[index], rise)
    values = core - np.log1p(-EXPONENTIAL_LEVELS)[:, None] * miss
    weight = np.tile(cloud.weight[index], EXPONENTIAL_LEVELS.size) / EXPONENTIAL_LEVELS.size
    return _density(values.ravel(), weight, probe.READING_SD_C)


def last_moment_s(evidence: Evidence) -> float:
    """The latest time the evidence mentions; minus infinity if it mentions none."""
    spans = [*evidence.lid_open, *(span for bird in evidence.birds for span in bird.on_heat)]
    moments = [moment for span in spans for moment in (span.start_s, span.end_s)]
    moments += [reading.at_s for bird in evidence.birds for reading in bird.readings]
    moments += [reading.at_s for reading in evidence.grill]
    moments += evidence.fuel_added_s
    return max((moment for moment in moments if moment is not None), default=-math.inf)


def air_density(evidence: Evidence, at_s: float) -> ReadingDensity:
    """What a reading of the grill would say at `at_s`."""
    path = air.path(evidence, np.array([at_s, at_s + 600.0]))
    return ReadingDensity(
        float(path.mean_c[0]), float(np.hypot(path.factor[0, 0], air.READING_SD_C))
    )


def _density(values: Array, weight: Array, noise_c: float) -> ReadingDensity:
    low, middle, high = weighted_quantiles(values, weight, ONE_SIGMA)
    return ReadingDensity(middle, math.hypot(0.5 * (high - low), noise_c))
