"""Three bugs that the harnesses must find; a test fails if one of them survives."""

import contextlib
import itertools
from collections.abc import Iterator
from unittest import mock

import apsw

from assistant.cook.prompt import Prompt
from assistant.cook.state import Cook
from assistant.journal import database
from assistant.journal.store import Journal
from assistant.session import session


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
