"""The mean of several fittings as one: `python -m tests.fitting.average OUT FILE FILE ...`.

Runs that went on from one another lie in one valley of the loss, and their mean hears
strangers better than any of them (Wortsman et al. 2022, "Model soups"). Products of low
rank are averaged as whole matrices and cut to the rank of the first file again.
"""

import sys
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Fitting = dict[str, NDArray[np.float16]]


def averaged(fittings: list[Fitting]) -> Fitting:
    """The mean fitting; all must hold the same names. Raises KeyError otherwise."""
    mean: Fitting = {}
    for key in fittings[0]:
        name, _, part = key.rpartition("/")
        if part == "A":
            a, b = _factors(
                [one[f"{name}/B"].astype(float) @ one[key] for one in fittings],
                len(fittings[0][key]),
            )
            mean[key], mean[f"{name}/B"] = a.astype(np.float16), b.astype(np.float16)
        elif part != "B":
            mean[key] = np.mean([one[key].astype(float) for one in fittings], axis=0).astype(
                np.float16
            )
    return mean


def _factors(
    products: list[NDArray[np.float64]], rank: int
) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """A (rank, in) and B (out, rank) whose product is nearest to the mean."""
    u, s, v = np.linalg.svd(np.mean(products, axis=0), full_matrices=False)
    root = np.sqrt(s[:rank])
    return root[:, None] * v[:rank], u[:, :rank] * root


def main() -> None:
    """Read the files and write their mean."""
    out, *files = map(Path, sys.argv[1:])
    np.savez(out, **averaged([dict(np.load(file)) for file in files]))


if __name__ == "__main__":
    main()
