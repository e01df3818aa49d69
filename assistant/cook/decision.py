"""What `decide` can answer."""

from dataclasses import dataclass, field

from assistant.cook.commands import Command
from assistant.cook.events import Event


@dataclass(frozen=True, slots=True)
class Record:
    """Accepted: these events become facts. `replies_to` is the command meant,
    after an ask-back or a correction; `notes` name what the read-back adds."""

    events: tuple[Event, ...]
    replies_to: Command
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AskBack:
    """A question that settles what was heard before it is recorded.

    `why`: "teen_or_ty", "falls", "jumps", "far_from_forecast", "too_hot", ...
    """

    options: tuple[Command, ...]
    why: str


@dataclass(frozen=True, slots=True)
class Tell:
    """An answer that changes nothing. `topic` names it, `facts` fill its sentence."""

    topic: str
    facts: dict[str, object] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Refuse:
    """It cannot be; `why` names the reason, `facts` fill its sentence."""

    why: str
    facts: dict[str, object] = field(default_factory=dict)


Decision = Record | AskBack | Tell | Refuse
