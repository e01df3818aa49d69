"""How honest the fire's forecast is:
`python -m tests.benchmarks.fire [--count N]`.

Simulated fires by another burning law (tests/heat/fire/fire_truth.py), none of them used
for tuning by its seed. Printed: how often the grill lay in the 80 % interval, the
bias and scatter of the median, the interval's width, and the cost of one call. How the
fire fares as advised is printed by tests.benchmarks.fire_tended.
"""

import argparse
import time

import numpy as np

from assistant.heat.fire.forecast import fire_forecast
from tests.heat.fire.fire_truth import Truth, burn

HELD_OUT = 5000


def row(truths: list[Truth], hours: float) -> str:
    """One line of the table: forecasts `hours` ahead."""
    inside, error, width = [], [], []
    for truth in truths:
        found = fire_forecast(truth.evidence, truth.now_s, truth.now_s + 3600.0 * hours)
        assert found is not None
        at_s, low, middle, high = found.path[-1]
        inside.append(low <= truth.at(at_s) <= high)
        error.append(middle - truth.at(at_s))
        width.append(high - low)
    return (
        f"| {hours:g} h | {100 * np.mean(inside):.0f} % | {np.mean(error):+.0f} C"
        f" | {np.std(error):.0f} C | {np.mean(width):.0f} C |"
    )


def cost_ms(truth: Truth, calls: int = 40) -> float:
    """Median processor milliseconds of one call two hours ahead."""
    times = []
    for _ in range(calls):
        began = time.process_time()
        fire_forecast(truth.evidence, truth.now_s, truth.now_s + 7200.0)
        times.append(time.process_time() - began)
    return 1000.0 * float(np.median(times))


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    asked = parser.parse_args()
    truths = [burn(HELD_OUT + seed) for seed in range(asked.count)]
    print("| ahead | in the 80 % interval | bias | scatter | width |\n|---|---|---|---|---|")
    for hours in (0.5, 1.0, 1.5):
        print(row(truths, hours))
    print(
        f"\n{asked.count} fires; one call {cost_ms(truths[0]):.0f} ms of processor (median of 40)"
    )


if __name__ == "__main__":
    main()
