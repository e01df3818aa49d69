"""How every child of this program is started: with its own code, never the folder's.

A `numpy.py` or a folder `assistant` in the current directory must not be taken for the
real one, whichever child it is and however PYTHONPATH is set.
"""

import os
import sys
from collections.abc import Sequence
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
_INSTALLED = {"site-packages", "dist-packages"}  # found anyway; put first it would hide others


def child_command(module: str, arguments: Sequence[str] = ()) -> tuple[list[str], dict[str, str]]:
    """Command and environment that run a module of this program, wherever it lies.

    `-P` leaves the current folder out of the path. `-I` would do so too, and lose what
    PYTHONPATH names on purpose; so of that, what is relative or the current folder goes.
    """
    return [sys.executable, "-P", "-m", module, *arguments], _environment()


def code_command(code: str, arguments: Sequence[str] = ()) -> tuple[list[str], dict[str, str]]:
    """The same for a few lines of `code`; its output is UTF-8."""
    return [sys.executable, "-P", "-c", code, *arguments], _environment() | {"PYTHONUTF8": "1"}


def _environment() -> dict[str, str]:
    root = () if ROOT.name in _INSTALLED else (str(ROOT),)
    path = os.pathsep.join((*root, *_absolute(os.environ.get("PYTHONPATH", ""))))
    kept = {name: value for name, value in os.environ.items() if name != "PYTHONPATH"}
    return kept | ({"PYTHONPATH": path} if path else {})


def _absolute(path: str) -> list[str]:
    """The folders of a search path that cannot be, or become, the current one."""
    try:
        here = Path.cwd()
    except OSError:  # it was removed
        here = None
    found = [one for one in path.split(os.pathsep) if one and Path(one).is_absolute()]
    return [one for one in found if here is None or Path(one).resolve() != here]
