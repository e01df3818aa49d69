"""`turnspit check --report`: what a report on an untried computer needs, and nothing personal."""

import getpass
import os
import platform
import re
import socket
import sys
from collections.abc import Iterable, Iterator
from contextlib import suppress
from importlib import metadata
from pathlib import Path

import tzlocal

from assistant.app.check_parts import Finding
from assistant.system.parts import WITHOUT

_OWNED = re.compile(r"\b\w+['\u2019]s ")  # "Anna's headset"
OTHERS = ("turnspit", "numpy", "scipy", "apsw", "click", "rich")


def report_lines(found: Iterable[Finding]) -> Iterator[str]:
    """Yield the computer, the libraries and the findings, as one block to copy."""
    yield "--- turnspit check --report: people, places, computers and folders are not named"
    yield f"system     {platform.system()} {platform.release()} {platform.machine()}"
    yield f"python     {platform.python_implementation()} {platform.python_version()}"
    yield f"processors {os.cpu_count()}"
    yield f"terminal   {'yes' if sys.stdout.isatty() else 'no'}, {sys.stdout.encoding}"
    packages = sorted({*OTHERS, *(name.replace("_", "-") for name in WITHOUT)})
    yield "packages   " + ", ".join(f"{name} {_version(name)}" for name in packages)
    for one in found:
        yield scrubbed(f"{one.part:<11}{one.state}: {one.detail}")
    yield "---"


def _version(package: str) -> str:
    try:
        return metadata.version(package)
    except metadata.PackageNotFoundError:
        return "not installed"


def scrubbed(text: str, known: Iterable[tuple[str, str]] | None = None) -> str:
    """The text without the home folder, the person's and the computer's name.

    `known`: what stands for what; by default, of whoever runs this.
    """
    for private, instead in _private() if known is None else known:
        if len(private) > 1:
            text = text.replace(private, instead)
    return _OWNED.sub("(someone)'s ", text)


def _private() -> Iterator[tuple[str, str]]:
    """Longest first: a home folder holds the name."""
    for variable in ("XDG_DATA_HOME", "XDG_CONFIG_HOME"):
        yield os.environ.get(variable, ""), f"${variable}"
    yield str(Path.home()), "~"
    with suppress(OSError, KeyError, ImportError):  # nobody by that number, or no such module
        yield getpass.getuser(), "(user)"
    yield socket.gethostname(), "(computer)"
    with suppress(OSError, LookupError, ValueError):
        yield tzlocal.get_localzone_name() or "", "(time zone)"
