"""Opening a cook in the journal: a new one, or the one that was left unfinished."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.cook import events as ev
from assistant.cook.fold import fold
from assistant.cook.state import Cook
from assistant.journal.resilient import News, ResilientJournal

STALE_S = 12 * 3600.0  # a cook silent for this long is over; nobody roasts a bird overnight


@dataclass(frozen=True)
class CookLog:
    """The log of one cook in the journal. It goes on in memory when the disk fails,
    and `news` then tells what the cook must hear."""

    journal: ResilientJournal
    cook_id: str

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        """The events with their places; on disk when this returns, if `is_safe`."""
        return self.journal.append(self.cook_id, at_s, events)

    @property
    def is_safe(self) -> bool:
        """Everything recorded so far is on disk."""
        return self.journal.is_safe

    def news(self, at_s: float) -> tuple[News, ...]:
        """Try the disk again where it failed; what the cook must be told, each once."""
        self.journal.retry(at_s)
        return self.journal.news()


@dataclass(frozen=True)
class Opened:
    """A cook to go on with. `state` is None for a new one; `closed`: a stale one was ended."""

    log: CookLog
    state: Cook | None
    closed: bool = False


def open_cook(journal: ResilientJournal, now_s: float, name: str | None = None) -> Opened:
    """The unfinished cook, or a new one called `name`.

    An unfinished cook that has been silent for twelve hours is ended first.
    """
    unfinished = journal.unfinished()
    if unfinished is not None:
        recorded = journal.resume(unfinished.id)
        if now_s - recorded[-1].at_s < STALE_S:
            return Opened(CookLog(journal, unfinished.id), fold(recorded))
        journal.append(unfinished.id, recorded[-1].at_s, (ev.CookEnded(),))
    log = CookLog(journal, journal.begin(name, now_s))
    return Opened(log, None, closed=unfinished is not None)
