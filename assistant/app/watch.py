"""Watching a cook that another Turnspit runs: its lines, as they are committed.

Only what is on disk is seen. Nothing is written, so the cook that runs is not disturbed.
"""

from collections.abc import Callable, Sequence

from assistant.cook.vocabulary.events import Recorded
from assistant.journal.errors import JournalError
from assistant.journal.learning import start_of
from assistant.journal.reader import CookInfo, JournalReader
from assistant.session.line import Line
from assistant.session.retold import Moment, moments

LOOK_S = 1.0  # between two looks at the journal


def running(journal: JournalReader) -> CookInfo:
    """The cook that is under way. Raises `JournalError` where none is."""
    cook = journal.unfinished()
    if cook is None:
        raise JournalError("no cook is under way; begin one with: turnspit cook")
    return cook


def watch(
    journal: JournalReader,
    cook: CookInfo,
    show: Callable[[Line], None],
    pause: Callable[[float], None],
    refresh: Callable[[Sequence[Moment]], None] = lambda _: None,
) -> None:
    """Show the cook's lines from its beginning on until it ends; `pause` waits between
    two looks, `refresh` gets the whole cook so far after each that found something.
    Raises `JournalError`, and whatever `pause` raises."""
    start = start_of(journal, cook.id)
    recorded = journal.events(cook.id)
    shown = 0
    while True:
        steps = list(moments(recorded, start))
        for step in steps:
            if step.seq > shown:
                for line in step.lines:
                    show(line)
        refresh(steps)
        shown = len(recorded)
        if steps[-1].state.ended_s is not None:
            return
        recorded += _committed_after(journal, cook.id, shown, pause)


def _committed_after(
    journal: JournalReader, cook_id: str, seq: int, pause: Callable[[float], None]
) -> tuple[Recorded, ...]:
    """What comes next; waits for it."""
    while True:
        pause(LOOK_S)
        if more := journal.events(cook_id, after=seq):
            return more
