"""Bugs too large for one line, patched in: each must be found by the harnesses."""

import contextlib
import itertools
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any
from unittest import mock

import apsw

from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import Event, Recorded
from assistant.cook.vocabulary.prompts import Prompt
from assistant.journal import database
from assistant.journal.resilient import News
from assistant.journal.store import Journal
from assistant.session import session
from assistant.session.line import Line
from assistant.session.log import Log


@contextlib.contextmanager
def commit_skipped() -> Iterator[None]:
    """Every third commit is left for the next one, as a batching "optimisation" would."""
    number = itertools.count(1)

    @contextlib.contextmanager
    def transaction(connection: apsw.Connection) -> Iterator[None]:
        if not connection.in_transaction:
            connection.execute("BEGIN IMMEDIATE")
        yield
        if next(number) % 3:
            connection.execute("COMMIT")

    with (
        mock.patch.object(database, "transaction", transaction),
        mock.patch.object(Journal, "_checkpoint"),  # an open transaction would stop it
    ):
        yield


@contextlib.contextmanager
def sync_off() -> Iterator[None]:
    """Commits are written and not synced: only the power can tell."""
    with mock.patch.object(database, "SYNCHRONOUS", "off"):
        yield


@contextlib.contextmanager
def prompt_dropped() -> Iterator[None]:
    """After a restart only what falls due from then on is said."""
    began = [float("-inf")]
    resume, due = session.Session.resume, session.due

    def resumed(self: session.Session) -> None:
        began[0] = self.now()
        resume(self)

    def later(state: Cook, now_s: float) -> tuple[Prompt, ...]:
        return tuple(one for one in due(state, now_s) if one.due_s >= began[0])

    with (
        mock.patch.object(session.Session, "resume", resumed),
        mock.patch.object(session, "due", later),
    ):
        yield


@contextlib.contextmanager
def said_first() -> Iterator[None]:
    """What a turn says is out before its events are committed; the events' lines after."""
    turn = session.Session._turn

    def hasty(self: session.Session, events: Sequence[Event], *words: Any) -> None:
        log, show = self._log, self._show
        waiting: list[Callable[[], object]] = []
        self._log = _Later(log, self.state.seq, waiting)

        def shown(line: Line) -> None:
            if line.kind == "event":
                waiting.append(lambda: show(line))
            else:
                show(line)

        self._show = shown
        try:
            turn(self, events, *words)
        finally:
            self._log, self._show = log, show
        for one in waiting:
            one()

    with mock.patch.object(session.Session, "_turn", hasty):
        yield


@dataclass
class _Later:
    """A log that says at once what is recorded, and leaves the recording for `waiting`."""

    log: Log
    seq: int
    waiting: list[Callable[[], object]]

    @property
    def is_safe(self) -> bool:
        return self.log.is_safe

    def append(self, at_s: float, events: Sequence[Event]) -> tuple[Recorded, ...]:
        self.waiting.append(lambda: self.log.append(at_s, events))
        return tuple(Recorded(self.seq + n, at_s, one) for n, one in enumerate(events, 1))

    def keep(self, state: Cook) -> None:
        self.log.keep(state)

    def news(self, at_s: float) -> tuple[News, ...]:
        return self.log.news(at_s)  # type: ignore[return-value]
