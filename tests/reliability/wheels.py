"""What each system would install: every dependency must have a wheel there.

`python -m tests.reliability.wheels` asks the package index, so it needs the network;
nothing is installed. A "no" names what is in the way.
"""

import re
import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

ROOT = Path(__file__).parents[2]
PYTHONS = ("3.11", "3.12", "3.13", "3.14")
SYSTEMS = {
    "Linux x86-64": "x86_64-manylinux_2_28",
    "Linux aarch64": "aarch64-manylinux_2_28",
    "macOS arm64": "aarch64-apple-darwin",
    "macOS x86-64": "x86_64-apple-darwin",
    "Windows x86-64": "x86_64-pc-windows-msvc",
}
AT_ONCE = 10
TIMEOUT_S = 300


def trouble(platform: str, python: str, wanted: str | None = None) -> str | None:
    """Why the core set cannot be installed from wheels there; None if it can.

    `wanted`: requirements to try in place of the project's own. Raises OSError where
    the package index does not answer.
    """
    source = str(ROOT / "pyproject.toml") if wanted is None else "-"
    command = [
        sys.executable, "-m", "uv", "pip", "compile", "--quiet", "--only-binary", ":all:",
        "--python-platform", platform, "--python-version", python, "--no-header",
        "--constraint", str(ROOT / "requirements.lock"), source,
    ]  # fmt: skip
    try:
        done = subprocess.run(
            command, input=wanted, capture_output=True, text=True, timeout=TIMEOUT_S, check=False
        )
    except subprocess.TimeoutExpired as error:
        raise OSError(f"no answer within {TIMEOUT_S} s") from error
    if done.returncode == 0:
        return None
    said = re.sub(r"^warning:.*$", "", done.stderr, flags=re.MULTILINE)
    if "No solution found" not in said:
        raise OSError(" ".join(said.split())[:300])
    return " ".join(said.split())


def table() -> dict[tuple[str, str], str | None]:
    """The trouble of every system and Python, None where there is none."""
    cells = [(system, python) for system in SYSTEMS for python in PYTHONS]
    with ThreadPoolExecutor(AT_ONCE) as pool:
        found = pool.map(lambda cell: trouble(SYSTEMS[cell[0]], cell[1]), cells)
        return dict(zip(cells, found, strict=True))


def main() -> None:
    """Print the table; exit 1 where a wheel is missing."""
    found = table()
    print("| system |" + "".join(f" {python} |" for python in PYTHONS))
    print("|---|" + "---|" * len(PYTHONS))
    for system in SYSTEMS:
        row = ("no" if found[system, python] else "yes" for python in PYTHONS)
        print(f"| {system} |" + "".join(f" {cell} |" for cell in row))
    for (system, python), why in found.items():
        if why:
            print(f"{system}, Python {python}: {why}")
    sys.exit(any(found.values()))


if __name__ == "__main__":
    main()
