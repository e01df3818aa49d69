"""A prompt: something due, and how much it matters."""

from dataclasses import dataclass, field
from typing import Literal

Urgency = Literal["now", "soon", "convenient"]


@dataclass(frozen=True, slots=True)
class Prompt:
    """Something due at `due_s` (epoch seconds). `kind` picks its sentence.

    `key` names the thing that is due and the facts it rests on (how many readings the
    bird had, which fuel came last): a new fact makes a new key, so an old prompt falls
    silent by itself. `said`: how often it has been said already. `early`: it may come
    up to two minutes before it is due, to be said with another. `at_once`: a reading
    just made it due, so it does not wait for the next reading.
    """

    key: str
    kind: str
    urgency: Urgency
    due_s: float
    bird: int | None = None
    facts: dict[str, object] = field(default_factory=dict, hash=False)
    said: int = 0
    early: bool = True
    at_once: bool = False
