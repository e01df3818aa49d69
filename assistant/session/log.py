"""Where the events of a session go."""

from collections.abc import Sequence
from typing import Protocol

from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.journal.resilient import News


class Log(Protocol):
    """Where events go. When `append` returns they are kept; it may raise."""

    @property
    def is_safe(self) -> bool:
        """Everything recorded so far is kept for good."""

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        """The events with their places."""

    def news(self, at_s: float) -> Sequence[News]:
        """What the cook must be told of the log itself, each once."""

    def keep(self, state: Cook) -> None:
        """The state now, for a log that opens faster by it."""


class MemoryLog:
    """Events kept in memory only, for rehearsals."""

    is_safe = True

    def __init__(self) -> None:
        self.recorded: list[ev.Recorded] = []

    def news(self, at_s: float) -> tuple[News, ...]:  # noqa: ARG002 -- memory has no news
        """Nothing: memory does not fail."""
        return ()

    def keep(self, state: Cook) -> None:
        """Nothing: memory is not opened again."""

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        """The events with their places."""
        first = len(self.recorded) + 1
        new = tuple(ev.Recorded(seq, at_s, event) for seq, event in enumerate(events, first))
        self.recorded.extend(new)
        return new
