"""What a check found out about one part."""

from dataclasses import dataclass
from typing import Literal

State = Literal["works", "missing", "broken"]
"""missing: a cook goes on without it, with less. broken: no cook can be trusted to it."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What one part does. `fix`: the one line that mends it, None where it works."""

    part: str
    state: State
    detail: str
    fix: str | None = None
