"""The mean of several fittings as one: `python -m tests.fitting.average OUT FILE FILE ...`.

Fittings that went out from the same weights mostly lie in one valley of the loss, and their
mean hears strangers better than any of them (Wortsman et al. 2022, "Model soups"). A file may
also hold products of low rank (`NAME/A`, `NAME/B`), as fittings once were kept.
"""

import sys
from pathlib import Path

import numpy as np

from assistant.ears.whisper.files import find_model, read_weights
from assistant.ears.whisper.fitting import Arrays, fitted, split


def averaged(weights: Arrays, files: list[Path]) -> dict[str, np.ndarray]:
    """The mean of what the files make of `weights`, of all that any of them changes."""
    found = [_read(weights, path) for path in files]
    names = {name for one in found for name in one if one[name] is not weights[name]}
    return {
        name: np.mean([np.asarray(one[name], np.float32) for one in found], axis=0)
        for name in sorted(names)
    }


def _read(weights: Arrays, path: Path) -> dict[str, np.ndarray]:
    with np.load(path) as kept:
        products = {key.rpartition("/")[0] for key in kept.files if key.endswith("/A")}
        if not products:
            return fitted(weights, path)
        merged = dict(weights)
        for key in kept.files:
            name, _, part = key.rpartition("/")
            if part not in "AB":
                merged[key] = np.asarray(kept[key], np.float32)
        for name in products:
            before = np.asarray(weights[f"{name}/weight"], np.float32)
            added = kept[f"{name}/B"].astype(np.float32) @ kept[f"{name}/A"].astype(np.float32)
            merged[f"{name}/weight"] = before + added.reshape(before.shape)
        return merged


def main() -> None:
    """Read the files and write their mean."""
    out, *files = map(Path, sys.argv[1:])
    weights = read_weights(find_model() / "model.bin")
    np.savez_compressed(out, **split(weights, averaged(weights, files)))  # type: ignore[arg-type]


if __name__ == "__main__":
    main()
