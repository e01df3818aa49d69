"""Events: what the journal keeps, as frozen values, one module a topic.

An event is a fact that was accepted, or something the assistant did. The state
is only ever computed from events (`assistant.cook.rules.fold`). A fact carries the
name and slots of the command it came from, so a journal reads like the evening
was spoken. Every event is stored beside its time (`Recorded.at_s`). `SHOWN`: people see it
in a printed cook; the rest shows by what was said.
"""

from dataclasses import dataclass
from typing import assert_never

from assistant.cook.vocabulary.birds import *
from assistant.cook.vocabulary.dinner import *
from assistant.cook.vocabulary.fire import *
from assistant.cook.vocabulary.program import *
from assistant.cook.vocabulary.readiness import *
from assistant.cook.vocabulary.talk import *
from assistant.cook.vocabulary.terms import *

# Facts of the cooking, which "take that back" takes back, and what stays (see `is_undoable`).
Undoable = BirdEvent | FireEvent | DinnerEvent | ThermometerChecked
Lasting = ReadinessMoved | TalkEvent | ProgramEvent
Event = Undoable | Lasting


def is_undoable(event: Event) -> bool:
    """Whether "take that back" takes this event back."""
    if isinstance(event, Undoable):
        return True
    if isinstance(event, Lasting):
        return False
    assert_never(event)


# What may be told later than it happened.
Dated = (
    BirdRead | GrillRead | BirdOn | BirdOff | BirdSauced | FuelPut | WoodPut | FireStarted
    | LidOpened | LidClosed | VentsSet | TroubleNoted | TroubleEnded
)  # fmt: skip
LONGEST_S = 24 * 3600.0  # nothing is told later than this


@dataclass(frozen=True, slots=True)
class Recorded:
    """An event with its place (from 1) and time (epoch seconds) in a cook's journal."""

    seq: int
    at_s: float
    event: Event

    @property
    def happened_s(self) -> float:
        """When it happened, epoch seconds: its own time where it was told later."""
        at_s = self.event.at_s if isinstance(self.event, Dated) else None
        return self.at_s if at_s is None else min(max(at_s, self.at_s - LONGEST_S), self.at_s)
