"""The second listener's fitting to the place: what training on short commands beside a
fire added to Whisper's weights, kept as low-rank products and merged when it is loaded.

Hu et al. 2021, "LoRA: Low-Rank Adaptation of Large Language Models". Made by
`python -m tests.fitting`; `models/README.md` tells from what.
"""

from collections.abc import Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.system.places import shipped

Arrays = Mapping[str, NDArray[np.generic]]


def fitting_path() -> Path:
    """Where the fitting that comes with the program lies."""
    return shipped("models") / "second_listener_fitting.npz"


def fitted(weights: Arrays, path: Path) -> dict[str, NDArray[np.generic]]:
    """`weights` by name, with the fitting in `path` merged into them.

    The file holds `NAME/A` (rank, in) and `NAME/B` (out, rank) for a linear layer, whose
    product is added to `NAME/weight` laid out flat, and replacements for small arrays.
    Raises OSError, ValueError or KeyError for a file that is not such a fitting.
    """
    merged = dict(weights)
    with path.open("rb") as file, np.load(file) as kept:
        for key in kept.files:
            name, _, part = key.rpartition("/")
            if part == "B":
                continue
            if part != "A":
                merged[key] = np.asarray(kept[key], np.float32)
                continue
            before = np.asarray(weights[f"{name}/weight"], np.float32)
            added = kept[f"{name}/B"].astype(np.float32) @ kept[key].astype(np.float32)
            merged[f"{name}/weight"] = before + added.reshape(before.shape)
    return merged
