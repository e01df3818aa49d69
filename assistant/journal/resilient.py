"""The journal of a live cook: it goes on when the disk does not.

`ResilientJournal` has the methods of `Journal` that a session needs. Where an
append cannot reach the disk, the cook is kept in memory, a fresh file beside the
journal is tried again and again, and `news()` tells what the cook must hear:
"memory_only" once, "safe_again" when everything said so far is on disk. The
fresh file is merged into the journal at the next start.

A session uses it so:

    journal = ResilientJournal.open(folder / "journal.db", at_s=clock.now())
    waiting = journal.unfinished()
    cook_id = waiting.id if waiting else journal.begin(None, clock.now())
    recorded = journal.resume(cook_id) if waiting else ()   # then fold them
    recorded = journal.append(cook_id, clock.now(), events) # never fails for the disk
    journal.retry(clock.now())                              # at every tick; cheap
    for news in journal.news(): ...                         # say it, by `news.kind`
"""

import contextlib
import math
import uuid
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, Literal, Self

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import Event, Recorded
from assistant.journal import fresh, rescue, snapshots
from assistant.journal.codec import to_row
from assistant.journal.errors import DamagedJournalError, JournalError, WriteError
from assistant.journal.reader import CookInfo
from assistant.journal.store import Journal, clean_name

Kind = Literal["memory_only", "safe_again", "moved", "rescued", "aside"]
RETRY_S = 15.0  # between two tries of a fresh file


@dataclass(frozen=True, slots=True)
class News:
    """Something about the journal that the cook must be told; `text` is one printed line.

    memory_only: what is said from now on is not on disk. safe_again: all of it is.
    moved: the journal failed and a fresh file took over at once; nothing was ever only in memory.
    rescued: the journal was damaged; what could be read was carried over.
    aside: a file of an earlier evening could not be merged and is left where it is.
    """

    kind: Kind
    text: str


class ResilientJournal:
    """Open it with `open`. One cook is live at a time: the one begun or resumed last."""

    def __init__(self, path: Path, journal: Journal, vfs: str) -> None:
        self.path = path
        self._main = journal  # kept open when a fresh file has taken over: its lock is ours
        self._journal = journal
        self._vfs = vfs
        self._live = CookInfo("", "", "", 0.0)
        self._recorded: list[Recorded] = []  # of the live cook, after the first `_skipped`
        self._skipped = 0
        self._kept_seq = 0  # of the last snapshot
        self._earlier: list[tuple[CookInfo, list[Recorded]]] = []  # cooks only in memory
        self._is_safe = True
        self._tried_s = 0.0
        self._news: list[News] = []

    @classmethod
    def open(cls, path: Path, *, at_s: float, vfs: str = "") -> Self:
        """The journal at `path`, with the fresh files of earlier evenings merged in.

        A damaged journal is put aside and what can be read is carried over.
        Raises `HeldError`, `NewerJournalError` or `JournalError` (cannot be opened).
        """
        rescued = None
        rescue.finish(path)
        try:
            main = fresh.readable(path, at_s, vfs)
        except DamagedJournalError:
            rescued = rescue.rescue(path, at_s=at_s)
            main = fresh.readable(path, at_s, vfs)
        journal = cls(path, main, vfs)
        if rescued is not None:
            journal._tell("rescued", str(rescued))
        try:
            latest, left = fresh.merge(path, main, at_s, vfs)
        except BaseException:
            journal.close()
            raise
        for text in left:
            journal._tell("aside", text)
        journal._journal = latest
        return journal

    @property
    def is_safe(self) -> bool:
        """Everything recorded so far is on disk."""
        return self._is_safe

    @property
    def live_path(self) -> Path:
        """The file that is written now: the journal, or a fresh one that took over."""
        return self._journal.path

    def close(self) -> None:
        """Let go of the files."""
        self._journal.close()
        self._main.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def news(self) -> tuple[News, ...]:
        """What the cook must be told, each once."""
        news, self._news = tuple(self._news), []
        return news

    # -- the live cook -------------------------------------------------------------

    def begin(self, name: str | None, at_s: float, cook_id: str | None = None) -> str:
        """A new live cook; its id. Never fails for the disk."""
        cook_id = cook_id if cook_id is not None else uuid.uuid4().hex
        if not self._is_safe:
            self._earlier.append((self._live, self._all()))
        self._live = CookInfo(cook_id, clean_name(name) if name else "", "", at_s)
        self._recorded, self._skipped, self._kept_seq = [], 0, 0
        if self._is_safe:
            try:
                self._journal.begin(name, at_s, cook_id)
            except WriteError as error:
                self._lose(error, at_s)
        return cook_id

    def resume(self, cook_id: str) -> tuple[Recorded, ...]:
        """The events of an unfinished cook, which is the live one from now on."""
        try:
            recorded = self._journal.events(cook_id)
        except DamagedJournalError:
            self._rescue()
            recorded = self._journal.events(cook_id)
        self._go_on(cook_id, recorded, 0)
        return recorded

    def resume_state(self, cook_id: str, start: Cook) -> Cook:
        """The state of an unfinished cook that began in `start`; it is the live one now.

        The same as folding `resume`, in less time where a state was kept.
        """
        try:
            state = snapshots.kept(self._journal, cook_id)
            tail = self._journal.events(cook_id, state.seq) if state else ()
        except DamagedJournalError:
            state, tail = None, ()
        if state is None:
            return fold(self.resume(cook_id), start)
        self._go_on(cook_id, tail, state.seq)
        return fold(tail, state)

    def keep(self, state: Cook) -> None:
        """Keep the live cook's state now and then; only the next start's time is at stake."""
        if self._is_safe and state.seq - self._kept_seq >= snapshots.EVERY:
            self._kept_seq = state.seq
            with contextlib.suppress(JournalError):  # the next append will tell
                self._journal.keep_state(self._live.id, state)

    def append(self, cook_id: str, at_s: float, events: Sequence[Event]) -> tuple[Recorded, ...]:
        """The events with their places: on disk when this returns, if `is_safe`.

        Never fails for the disk; `JournalError` only for a cook that is not live.
        """
        if cook_id != self._live.id:
            raise JournalError(f"cook {cook_id[:8]} is not the one that is running")
        recorded = tuple(
            Recorded(self._skipped + len(self._recorded) + place, float(at_s), event)
            for place, event in enumerate(events, 1)
        )
        for entry in recorded:
            to_row(entry, b"")  # what cannot be stored is refused, on disk or not
        if self._is_safe:
            try:
                self._journal.append_recorded(cook_id, recorded)
            except WriteError as error:
                self._lose(error, at_s)
        self._recorded += recorded
        self.retry(at_s)
        return recorded

    def retry(self, at_s: float) -> None:
        """Try a fresh file if what is recorded is only in memory; at most every `RETRY_S`."""
        if self._is_safe or abs(at_s - self._tried_s) < RETRY_S:  # abs: clocks are stepped
            return
        self._tried_s = at_s
        path = fresh.free_path(self.path)
        try:
            journal = self._written(path, at_s)
        except JournalError:
            with contextlib.suppress(OSError):
                rescue.remove(path)
            return
        if self._journal is not self._main:
            self._journal.close()
        self._journal, self._is_safe, self._earlier = journal, True, []
        unsaid = [news for news in self._news if news.kind == "memory_only"]
        self._news = [news for news in self._news if news.kind != "memory_only"]
        kind: Kind = "moved" if unsaid else "safe_again"
        self._tell(kind, f"everything recorded so far is on disk again, in {path}")

    def last_try(self, at_s: float) -> str | None:
        """Before the program ends: None where all that was recorded is on disk now, or else
        the line to print, which says where a copy lies."""
        self._tried_s = -math.inf
        self.retry(at_s)
        return None if self._is_safe else fresh.put_by(self._cooks_of_tonight())

    def _written(self, path: Path, at_s: float) -> Journal:
        """A fresh file that holds all that was recorded."""
        journal = Journal(path, at_s=at_s, vfs=self._vfs)
        try:
            for cook, recorded in self._cooks_of_tonight():
                journal.merge(cook, recorded)
        except BaseException:
            journal.close()
            raise
        return journal

    def _cooks_of_tonight(self) -> Iterator[tuple[CookInfo, Sequence[Recorded]]]:
        yield from self._earlier
        yield self._live, self._all()

    # -- the rest of the journal ---------------------------------------------------

    def unfinished(self) -> CookInfo | None:
        """The latest cook that has events and has not ended."""
        return self._journal.unfinished()

    def cooks(self) -> tuple[CookInfo, ...]:
        """All cooks, the one that began first coming first."""
        return self._journal.cooks()

    def find(self, which: str = "last") -> CookInfo:
        """A cook by "last", name or id."""
        return self._journal.find(which)

    def events(self, cook_id: str) -> tuple[Recorded, ...]:
        """A cook's events; of the live one also those that are only in memory."""
        return tuple(self._all()) if cook_id == self._live.id else self._journal.events(cook_id)

    def rename(self, cook_id: str, name: str) -> None:
        """Give a cook another name."""
        if cook_id == self._live.id:
            self._live = replace(self._live, name=clean_name(name))
        if self._is_safe:
            self._journal.rename(cook_id, name)

    def setting(self, key: str) -> Any:
        """The JSON value kept under `key`, or None."""
        return self._journal.setting(key)

    def set_setting(self, key: str, value: object) -> None:
        """Keep a JSON value under `key`; `WriteError` if the disk will not."""
        self._journal.set_setting(key, value)

    # -- inside --------------------------------------------------------------------

    def _go_on(self, cook_id: str, recorded: Sequence[Recorded], skipped: int) -> None:
        self._live = next(cook for cook in self._journal.cooks() if cook.id == cook_id)
        self._recorded, self._skipped, self._kept_seq = list(recorded), skipped, skipped

    def _all(self) -> list[Recorded]:
        if not self._skipped:
            return self._recorded
        return [*self._journal.events(self._live.id)[: self._skipped], *self._recorded]

    def _tell(self, kind: Kind, text: str) -> None:
        self._news.append(News(kind, text))

    def _lose(self, error: WriteError, at_s: float) -> None:
        self._is_safe = False
        self._tried_s = at_s - RETRY_S  # a fresh file at once: perhaps only this one failed
        self._tell("memory_only", f"{error}: the cook goes on in memory, and a fresh file is tried")

    def _rescue(self) -> None:
        path = self._journal.path
        self.close()
        self._tell("rescued", str(rescue.rescue(path)))
        self._main = self._journal = Journal(path, vfs=self._vfs)
