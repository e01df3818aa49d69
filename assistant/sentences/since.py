"""When something happened that was told later: its own time, read back."""

from typing import Literal

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.decision import Record
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev


def told_s(record: Record) -> float | None:
    """When what was recorded happened, epoch seconds; None: as it was told."""
    times = [one.at_s for one in record.events if isinstance(one, ev.Dated)]
    return times[-1] if times else None  # what closed before it may bear another time


def told_at(record: Record, state: Cook, word: Literal["at", "since"] = "at") -> str:
    """ " at 6:15", " since 6:15"; "" where it happened as it was told."""
    at_s = told_s(record)
    return "" if at_s is None else f" {word} {clock_text(at_s, state.zone)}"
