"""The calibration picture: how often intervals hold, where the truth falls, how wide."""

from collections.abc import Sequence
from pathlib import Path

import matplotlib as mpl
import numpy as np

from tests.benchmarks.foresight_scores import LEVELS, Case, stacked

mpl.use("svg")
import matplotlib.pyplot as plt


def draw(cases: Sequence[Case], split: str, path: Path) -> None:
    """Write the picture for the cases of one split as SVG."""
    mpl.rcParams["svg.hashsalt"] = "calibration"
    figure, (held, rank, wide) = plt.subplots(1, 3, figsize=(11, 3.6), layout="constrained")
    for mark, colour in (("done", "#b3431e"), ("sauce", "#2f6f73")):
        quantiles, truth = stacked([case for case in cases if case.mark == mark])
        middle = np.arange(2, 100, 2)
        share = [
            np.mean((truth >= quantiles[:, 49 - k // 2]) & (truth <= quantiles[:, 49 + k // 2]))
            for k in middle
        ]
        held.plot(middle / 100, share, color=colour, label=f"{mark} mark")
        pit = (quantiles < truth[:, None]).mean(axis=1)
        rank.hist(pit, bins=10, range=(0, 1), histtype="step", color=colour, density=True)
        low, high = (quantiles[:, round(100 * p) - 1] for p in (0.1, 0.9))
        order = np.argsort(truth)
        chunks = np.array_split(order, 12)
        wide.plot(
            [truth[c].mean() for c in chunks], [(high - low)[c].mean() for c in chunks],
            color=colour, marker="o", markersize=3,
        )  # fmt: skip
    held.plot([0, 1], [0, 1], color="0.6", linestyle="--", linewidth=1)
    held.set(xlabel="nominal share of the interval", ylabel="share that held the truth")
    held.legend(frameon=False)
    rank.axhline(1.0, color="0.6", linestyle="--", linewidth=1)
    rank.set(xlabel="where the truth fell in the forecast (PIT)", ylabel="density")
    wide.set(xlabel="minutes to go, in truth", ylabel="mean width of the 80 % interval, min")
    cooks = len({case.cook for case in cases})
    figure.suptitle(f"Forecasts on the {split} split: {len(cases)} forecasts of {cooks} cooks")
    path.parent.mkdir(parents=True, exist_ok=True)
    figure.savefig(path, metadata={"Date": None})
    plt.close(figure)


assert LEVELS.size == 99, "quantiles are taken by their place"
