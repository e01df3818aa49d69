"""The lethality of a bird's forecast core: what its coldest spot has probably had.

Extra information beside the done mark, never instead of it (see `lethality`).
"""

import numpy as np

from assistant.heat.bird.ensemble import ensemble, weighted_quantiles
from assistant.heat.bird.evidence import Evidence
from assistant.heat.bird.lethality import FATTEST_PCT, rate_per_s

LEVELS = (0.1, 0.5, 0.9)


def log10_reduction_had(
    evidence: Evidence, bird_number: int, now_s: float, until_s: float | None = None,
    fat_pct: int = FATTEST_PCT,
) -> tuple[float, float, float]:  # fmt: skip
    """0.1/0.5/0.9 quantiles of the log10 reduction at the coldest spot by `until_s`
    (None: now), from the start of the roast, over the ensemble as known at `now_s`.

    KeyError: no such bird.
    """
    numbers = [bird.number for bird in evidence.birds]
    if bird_number not in numbers:
        raise KeyError(bird_number)
    cloud = ensemble(evidence, now_s)
    at_s = cloud.tracks.at_s
    end_s = min(now_s if until_s is None else until_s, float(at_s[-1]))
    rate = rate_per_s(cloud.tracks.core_c[:, numbers.index(bird_number)], fat_pct)
    share = np.clip((end_s - at_s[:-1]) / np.diff(at_s), 0.0, 1.0)
    had = (0.5 * (rate[1:] + rate[:-1]) * (share * np.diff(at_s))[:, None]).sum(axis=0)
    low, middle, high = weighted_quantiles(had, cloud.weight[numbers.index(bird_number)], LEVELS)
    return low, middle, high
