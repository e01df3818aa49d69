"""The listener's fitting to the place: what training on a cook's sentences beside a fire
changed in Whisper's weights, in steps of a third of the change's spread, so that it is small
to ship; merged into the weights when they are loaded.

Made by `python -m tests.fitting`; `models/README.md` tells from what.
"""

from collections.abc import Mapping
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.system.places import shipped

Arrays = Mapping[str, NDArray[np.generic]]
FITTING_SHA256 = "93a5e7dd220221463baafef4480a518500135d70c57096de66d199874ca51cf8"
"""Of the shipped file; a new fitting brings its own (`sha256sum models/listener_fitting.npz`)."""
STEP, MOST = 0.35, 15
"""Of a row's spread; steps at most. A bell curve so cut keeps 99 % of its power."""


def fitting_path() -> Path:
    """Where the fitting that comes with the program lies."""
    return shipped("models") / "listener_fitting.npz"


def split(before: Arrays, after: Arrays) -> dict[str, NDArray[np.generic]]:
    """What a file keeps of the change from `before` to `after`: for a matrix `NAME|steps`
    (int8) and `NAME|step` (one a row), for anything else its new values."""
    kept: dict[str, NDArray[np.generic]] = {}
    for name, values in after.items():
        if values.ndim < 2:
            kept[name] = values.astype(np.float16)
            continue
        flat = np.asarray(values, np.float32).reshape(len(values), -1)
        change = flat - np.asarray(before[name], np.float32).reshape(flat.shape)
        step = (STEP * change.std(axis=1, keepdims=True) + 1e-9).astype(np.float32)
        kept[f"{name}|steps"] = np.clip(np.rint(change / step), -MOST, MOST).astype(np.int8)
        kept[f"{name}|step"] = step
    return kept


def fitted(weights: Arrays, path: Path) -> dict[str, NDArray[np.generic]]:
    """`weights` by name, with the fitting in `path` merged into them.

    Raises OSError, ValueError or KeyError for a file that is not such a fitting.
    """
    merged = dict(weights)
    with path.open("rb") as file, np.load(file) as kept:
        for key in kept.files:
            name, _, part = key.partition("|")
            if part == "steps":
                before = np.asarray(weights[name], np.float32)
                change = kept[key].astype(np.float32) * kept[f"{name}|step"]
                merged[name] = before + change.reshape(before.shape)
            elif not part:
                merged[name] = np.asarray(kept[key], np.float32)
    return merged
