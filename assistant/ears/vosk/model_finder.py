"""Where a Vosk model may lie, and whether it can serve a closed grammar.

Vosk's own download is never started from here: an explicit folder is all it gets.
"""

import os
from dataclasses import dataclass
from pathlib import Path

import platformdirs

NAME_VARIABLE = "TURNSPIT_VOSK_MODEL"
ENGLISH = "vosk-model*en*"
_DYNAMIC_GRAPH = ("HCLr.fst", "Gr.fst")


class VoskMissing(Exception):  # noqa: N818 -- named for what is so, not as an error
    """There is no Vosk model that can be used; the message says why in one line."""


@dataclass(frozen=True, slots=True)
class ModelFolder:
    """A folder looked at; `trouble` is one clear line, None where it will do."""

    path: Path
    trouble: str | None = None


def places() -> tuple[Path, ...]:
    """Folders whose `vosk-model*en*` subfolders are looked at, in this order."""
    return (
        Path(__file__).parents[3] / "models",
        platformdirs.user_data_path("turnspit") / "models",
        Path.home() / ".cache" / "vosk",
        Path("/usr/share/vosk"),
    )


def find_vosk_model() -> ModelFolder | None:
    """The first English model found, or the one TURNSPIT_VOSK_MODEL names; None where
    there is no such folder at all. Its vocabulary is checked when it is loaded."""
    named = os.environ.get(NAME_VARIABLE)
    if named:
        return check_folder(Path(named))
    found = [
        folder for place in places() for folder in sorted(place.glob(ENGLISH)) if folder.is_dir()
    ]
    checked = [check_folder(folder) for folder in found]
    good = [folder for folder in checked if folder.trouble is None]
    return next(iter(good or checked), None)


def check_folder(path: Path) -> ModelFolder:
    """Whether a folder holds a Vosk model with a dynamic graph (a grammar is ignored,
    or kills the process, with the static graphs of the large models)."""
    if not path.is_dir():
        return ModelFolder(path, f"{path}: no such folder")
    if not any(path.glob("**/final.mdl")):
        return ModelFolder(path, f"{path}: not a Vosk model (no final.mdl)")
    graph = path / "graph" if (path / "graph").is_dir() else path
    missing = [name for name in _DYNAMIC_GRAPH if not (graph / name).is_file()]
    if missing:
        lacking = " and ".join(missing)
        return ModelFolder(
            path, f"{path}: cannot take a grammar (no {lacking}); use a small Vosk model"
        )
    return ModelFolder(path)


def usable_vosk() -> Path:
    """The model to use. Raises VoskMissing where there is none that can be used."""
    found = find_vosk_model()
    if found is None:
        raise VoskMissing("no English Vosk model found (models/README.md)")
    if found.trouble:
        raise VoskMissing(found.trouble)
    return found.path
