"""Opening a cook in the journal: a new one, or the one that was left unfinished."""

from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass

from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.journal.errors import JournalError
from assistant.journal.learning import begin_with, relearn, start_of
from assistant.journal.resilient import News, ResilientJournal
from assistant.session.session import Session


@dataclass(frozen=True)
class CookLog:
    """The log of one cook in the journal. It goes on in memory when the disk fails,
    and `news` then tells what the cook must hear."""

    journal: ResilientJournal
    cook_id: str

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        """The events with their places; on disk when this returns, if `is_safe`."""
        return self.journal.append(self.cook_id, at_s, events)

    def keep(self, state: Cook) -> None:
        """Keep the state now and then, so that a long cook opens in a moment."""
        self.journal.keep(state)

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
    """A cook and the state it stands in."""

    log: CookLog
    state: Cook
    is_new: bool = False


def open_cook(journal: ResilientJournal, now_s: float, name: str | None = None) -> Opened:
    """The unfinished cook, or a new one called `name`.

    However old by the clock: only the cook ends a cook.
    """
    unfinished = journal.unfinished()
    if unfinished is not None:
        state = journal.resume_state(unfinished.id, start_of(journal, unfinished.id))
        return Opened(CookLog(journal, unfinished.id), state)
    log = CookLog(journal, journal.begin(name, now_s))
    try:
        state = begin_with(journal, log.cook_id)
    except JournalError:  # what was learned is missed for an evening; the cook is not
        state = Cook()
    return Opened(log, state, is_new=True)


def learn_from(journal: ResilientJournal, session: Session) -> None:
    """Let a cook that has ended teach the kitchen; a disk that fails costs only that."""
    if session.state.ended_s is not None:
        with suppress(JournalError):
            relearn(journal)
