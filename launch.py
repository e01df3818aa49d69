"""Sets Turnspit up on first use, then runs it: what `turnspit.cmd` calls under Windows.

    turnspit.cmd demo        a whole cook spoken by a synthetic voice; needs no sound hardware
    turnspit.cmd test [...]  the tests; further words go to pytest
    turnspit.cmd WORD ...    everything else goes to the program

The standard library only, since nothing is installed yet. Works on any system; elsewhere
`./turnspit` does the same and installs Debian packages as well.
"""

import hashlib
import os
import subprocess
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

OLDEST, NEWEST = (3, 11), (3, 14)
LOCKS = {"run": "requirements.lock", "test": "requirements-dev.lock"}
Run = Callable[[Sequence[str]], int]


class SetUpError(Exception):
    """It cannot be set up: one line with what to do."""


def python_of(venv: Path) -> Path:
    """The Python of a virtual environment."""
    return venv / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def fingerprint(root: Path, level: str) -> str:
    """What a set-up was made from: the lock, the project and where it lies."""
    made = hashlib.sha256(str(root).encode())
    for name in (LOCKS[level], "pyproject.toml"):
        made.update((root / name).read_bytes())
    return made.hexdigest()


def is_ready(root: Path, level: str) -> bool:
    """Whether the set-up of that level was finished, from the very files there are now."""
    stamp = root / ".venv" / f"launch-{level}.stamp"
    if not python_of(root / ".venv").exists() or not stamp.exists():
        return False
    return stamp.read_text(encoding="utf-8") == fingerprint(root, level)


def set_up(root: Path, level: str, run: Run) -> None:
    """Make the virtual environment and install the pinned packages. Raises SetUpError."""
    venv = root / ".venv"
    python = str(python_of(venv))
    for stamp in venv.glob("launch-*.stamp"):
        stamp.unlink()
    if not python_of(venv).exists():
        _say(f"making a virtual environment in {venv}")
        if run([sys.executable, "-m", "venv", "--clear", str(venv)]):
            raise SetUpError(f"could not make {venv}: is the folder writable, the disk not full?")
    _say("installing Python packages (once; some minutes on a slow line)")
    pip = [python, "-m", "pip", "install", "-q", "--disable-pip-version-check"]
    if run([*pip, "--require-hashes", "--use-pep517", "-r", str(root / LOCKS[level])]):
        raise SetUpError(
            "the Python packages could not be installed; once that is mended, the same"
            " command goes on from here"
        )
    # No build isolation: the build tool is pinned by the same lock.
    if run([*pip, "--no-deps", "--no-build-isolation", "-e", str(root)]):
        raise SetUpError("Turnspit itself could not be installed")
    for name in ("run", level):  # the test level holds everything of the run level
        stamp = venv / f"launch-{name}.stamp"
        stamp.write_text(fingerprint(root, name), encoding="utf-8")
    _say("ready")


def launch(words: Sequence[str], root: Path, run: Run) -> int:
    """Set up where that is needed, run the words, and return the exit status."""
    level = "test" if words[:1] == ["test"] else "run"
    try:
        if not OLDEST <= sys.version_info[:2] <= NEWEST:
            raise SetUpError("needs Python 3.11 to 3.14, from python.org or the Microsoft Store")
        if not is_ready(root, level):
            set_up(root, level, run)
    except (SetUpError, OSError) as error:
        _say(str(error))
        return 1
    python = str(python_of(root / ".venv"))
    if level == "test":
        return run([python, "-m", "pytest", str(root / "tests"), *words[1:]])
    return run([python, "-m", "assistant", *words])


def _say(text: str) -> None:
    print(f"turnspit: {text}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    try:
        sys.exit(launch(sys.argv[1:], Path(__file__).resolve().parent, subprocess.call))
    except KeyboardInterrupt:
        sys.exit(130)
