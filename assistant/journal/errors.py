"""What can go wrong with a journal. Each text is one line that says what to do."""

from datetime import UTC, datetime


class JournalError(Exception):
    """The journal cannot do what was asked; the text is for the person at the keyboard.

    It may quote a file, so what cannot be printed is escaped.
    """

    def __init__(self, text: str) -> None:
        super().__init__("".join(c if c.isprintable() else ascii(c)[1:-1] for c in text))


class NewerJournalError(JournalError):
    """Written by a newer version; left untouched."""


class DamagedJournalError(JournalError):
    """The file does not hold what was written to it; left untouched."""


class WriteError(JournalError):
    """These events are not known to be on disk, and this file takes no more.

    After a failed sync the system may report success for data it has dropped, so
    the same file is never tried again (`ResilientJournal` goes on in a fresh one).
    """


class HeldError(JournalError):
    """Another Turnspit writes to this journal; this one can only watch."""

    def __init__(self, pid: int | None, since_s: float | None) -> None:
        self.pid = pid
        self.since_s = since_s
        who = "another Turnspit" if pid is None else f"the Turnspit with process number {pid}"
        since = "" if since_s is None else f", since {_local(since_s)}"
        super().__init__(
            f"the journal is held by {who}{since}; stop that one, or look on with: turnspit watch"
        )


def _local(at_s: float) -> str:
    return datetime.fromtimestamp(at_s, UTC).astimezone().strftime("%Y-%m-%d %H:%M")
