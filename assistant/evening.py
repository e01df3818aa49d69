"""Opening a cook in the journal: a new one, or the one that was left unfinished."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.cook import events as ev
from assistant.cook.fold import fold
from assistant.cook.state import Cook
from assistant.journal.store import Journal

STALE_S = 12 * 3600.0  # a cook silent for this long is over; nobody roasts a bird overnight


@dataclass(frozen=True)
class CookLog:
    """The log of one cook in the journal."""

    journal: Journal
    cook_id: str

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        """The events with their places, on disk when this returns."""
        return self.journal.append(self.cook_id, at_s, events)


@dataclass(frozen=True)
class Opened:
    """A cook to go on with. `state` is None for a new one; `closed` names a stale one."""

    log: CookLog
    state: Cook | None
    closed: str | None = None


def open_cook(journal: Journal, now_s: float, name: str | None = None) -> Opened:
    """The unfinished cook, or a new one called `name`.

    An unfinished cook that has been silent for twelve hours is ended first.
    """
    unfinished, closed = journal.unfinished(), None
    if unfinished is not None:
        log = CookLog(journal, unfinished.id)
        recorded = journal.events(unfinished.id)
        if recorded:
            if now_s - recorded[-1].at_s < STALE_S:
                return Opened(log, fold(recorded))
            closed = unfinished.name
        journal.append(unfinished.id, recorded[-1].at_s if recorded else now_s, (ev.CookEnded(),))
    return Opened(CookLog(journal, journal.begin(name, now_s)), None, closed)
