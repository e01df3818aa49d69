"""What a session puts out: one line for each thing that happened."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that happened. `t`: seconds since the cook began; `kind` and
    `fields` as in the command-line contract."""

    t: float
    kind: str
    fields: dict[str, object] = field(default_factory=dict)
