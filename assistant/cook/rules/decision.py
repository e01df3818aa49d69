"""What `decide` can answer."""

from dataclasses import dataclass

from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.commands import Command, Factual
from assistant.cook.vocabulary.events import Event, Waiting
from assistant.cook.vocabulary.refusals import Refusal


@dataclass(frozen=True, slots=True)
class Record:
    """Accepted: these events become facts. `replies_to` is the command meant,
    after an ask-back or a correction (None: only the events are known); `notes` name
    what the read-back adds."""

    events: tuple[Event, ...]
    replies_to: Factual | None
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AskBack:
    """A question that settles what was heard before it is recorded.

    `why`: "teen_or_ty", "falls", "jumps", "far_from_forecast", "too_hot", ...
    """

    options: tuple[Command, ...]
    why: str
    clock_s: float | None = None  # the computer's clock, as in the event
    later: tuple[Waiting, ...] = ()  # asked once this is closed


Decision = Record | AskBack | Answer | Refusal
