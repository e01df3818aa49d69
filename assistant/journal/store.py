"""The journal: every event of every cook, on disk before it is answered.

SQLite in write-ahead mode with `synchronous=FULL`: when `append` returns, the
log has been synced. One process writes; others may read (`JournalReader`).
"""

import contextlib
import json
import os
import uuid
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

import apsw
from filelock import FileLock, Timeout

from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import Event, Recorded
from assistant.journal import codec, database, snapshots
from assistant.journal.errors import HeldError, JournalError, WriteError
from assistant.journal.reader import FOREIGN, NAME_LENGTH, CookInfo, JournalReader

CHECKPOINT_PAGES = 256  # 1 MB of log: replayed in milliseconds, and few syncs of the main file
HOLDER = "holder"  # the setting that names the process that writes


class Journal(JournalReader):
    """The journal at `path`, open for writing; created where it is missing.

    Raises `HeldError` where another process writes, and the other `JournalError`s
    where the file cannot be used. `at_s` is now, told to whoever finds the
    journal held; `vfs` names SQLite's storage layer (tests replace it).
    """

    def __init__(self, path: Path, *, at_s: float | None = None, vfs: str = "") -> None:
        self.path = path
        self._failed: str | None = None
        self._log_pages = 0
        self._tails: dict[str, tuple[int, int, bytes]] = {}  # id -> number, last seq, last seal
        with contextlib.ExitStack() as undo:
            self._lock = hold(path)
            undo.callback(self._lock.release)
            self._database = database.open_to_write(path, vfs)
            undo.callback(self._database.close)
            self._database.set_wal_hook(self._count_log)
            with contextlib.suppress(WriteError):  # readable still; the first append will tell
                self.set_setting(HOLDER, {"pid": os.getpid(), "since_s": at_s})
            undo.pop_all()

    def close(self) -> None:
        """Let go of the file and of the writer's lock."""
        with contextlib.suppress(apsw.Error):  # what is in the log is safe there
            super().close()
        self._lock.release()

    def begin(self, name: str | None, at_s: float, cook_id: str | None = None) -> str:
        """A new cook; its id. `cook_id` fixes the id (simulations, imports)."""
        cook_id = cook_id if cook_id is not None else uuid.uuid4().hex
        name = clean_name(name) if name else ""
        with self._writing():
            self._insert_cook(CookInfo(cook_id, name, "", at_s))
        return cook_id

    def append(self, cook_id: str, at_s: float, events: Sequence[Event]) -> tuple[Recorded, ...]:
        """The events with their places, on disk when this returns.

        `WriteError`: they are not known to be on disk, and this file takes no more.
        """
        seq = self._tail(cook_id)[1]
        recorded = tuple(
            Recorded(seq + place, float(at_s), event) for place, event in enumerate(events, 1)
        )
        self.append_recorded(cook_id, recorded)
        return recorded

    def append_recorded(self, cook_id: str, recorded: Sequence[Recorded]) -> None:
        """Store events that already have their places (they must follow the last)."""
        if recorded:
            with self._writing():
                self._insert_events(cook_id, recorded)
            self._checkpoint()

    def keep_state(self, cook_id: str, state: Cook) -> None:
        """Keep the state after the event `state.seq` as a short cut for the next start."""
        number = self._number(cook_id)
        row = self.row(cook_id, state.seq)
        if row is None:
            raise JournalError(f"cook {cook_id[:8]} has no event {state.seq} to keep a state of")
        text = snapshots.to_text(state)
        values = (number, state.seq, snapshots.version(), text, snapshots.seal(text, row.seal))
        with self._writing():
            self._database.execute("REPLACE INTO snapshots VALUES (?, ?, ?, ?, ?)", values)

    def mark_foreign(self, cook_ids: Sequence[str]) -> None:
        """Keep that these cooks, where they are not here yet, came from a file: such a
        cook is never gone on with by itself."""
        here = {cook.id for cook in self.roster()}
        known = self.setting(FOREIGN) or []
        passed = here.union(known)
        new = [one for one in dict.fromkeys(cook_ids) if one not in passed]
        if new:
            self.set_setting(FOREIGN, [*known, *new])

    def merge(self, cook: CookInfo, recorded: Sequence[Recorded]) -> int:
        """Bring in a cook from elsewhere; how many of its events were new.

        What is here must begin what comes, or the other way round; a cook that
        went two ways raises `JournalError` and changes nothing.
        """
        return self.merge_all([(cook, recorded)])

    def merge_all(self, cooks: Iterable[tuple[CookInfo, Sequence[Recorded]]]) -> int:
        """`merge` of several cooks, all of them or none."""
        with self._writing():
            return sum(self._merge(cook, recorded) for cook, recorded in cooks)

    def _merge(self, cook: CookInfo, recorded: Sequence[Recorded]) -> int:
        known = next((one for one in self.cooks() if one.id == cook.id), None)
        here = self.events(cook.id) if known else ()
        shared = min(len(here), len(recorded))
        for mine, theirs in zip(here[:shared], recorded[:shared], strict=True):
            if mine != theirs:
                raise JournalError(
                    f"cook {cook.id[:8]} is here already and differs from event {mine.seq} on: "
                    "nothing was brought in"
                )
        if known is None:
            self._insert_cook(cook)
        self._insert_events(cook.id, recorded[shared:])
        return len(recorded) - shared

    def rename(self, cook_id: str, name: str) -> None:
        """Give a cook another name."""
        with self._writing():
            self._database.execute(
                "UPDATE cooks SET name = ? WHERE number = ?",
                (clean_name(name), self._number(cook_id)),
            )

    def set_note(self, cook_id: str, note: str) -> None:
        """What the people at the table said; free text, replaces the note before."""
        with self._writing():
            self._database.execute(
                "UPDATE cooks SET note = ? WHERE number = ?",
                (clean_note(note), self._number(cook_id)),
            )

    def delete(self, cook_id: str) -> None:
        """Forget a cook and its events for good."""
        number = self._number(cook_id)
        with self._writing():
            self._database.execute("DELETE FROM cooks WHERE number = ?", (number,))
        self._tails.pop(cook_id, None)

    def set_setting(self, key: str, value: object) -> None:
        """Keep a JSON value under `key` (settings and learned values)."""
        with self._writing():
            self._database.execute(
                "INSERT INTO settings VALUES (?, ?) "
                "ON CONFLICT (key) DO UPDATE SET value = excluded.value",
                (key, json.dumps(value, allow_nan=False)),
            )

    def _insert_cook(self, cook: CookInfo) -> None:
        self._database.execute(
            "INSERT INTO cooks (id, name, note, began_s) VALUES (?, ?, ?, ?)",
            (cook.id, cook.name, cook.note, float(cook.began_s)),
        )

    def _insert_events(self, cook_id: str, recorded: Sequence[Recorded]) -> None:
        number, seq, seal = self._tail(cook_id)
        rows = []
        for entry in recorded:
            if entry.seq != seq + 1:
                raise JournalError(f"event {entry.seq} cannot follow event {seq}")
            row = codec.to_row(entry, seal)
            seq, seal = row.seq, row.seal
            rows.append((number, row.seq, row.at_s, row.name, row.slots, row.seal))
        self._database.executemany("INSERT INTO events VALUES (?, ?, ?, ?, ?, ?)", rows)
        self._tails[cook_id] = (number, seq, seal)

    def _tail(self, cook_id: str) -> tuple[int, int, bytes]:
        if cook_id not in self._tails:
            number = self._number(cook_id)
            last = self._rows(
                "SELECT seq, seal FROM events WHERE cook = ? ORDER BY seq DESC LIMIT 1", (number,)
            )
            seq, seal = last[0] if last else (0, codec.first_seal(cook_id))
            self._tails[cook_id] = (number, seq, seal)
        return self._tails[cook_id]

    @contextlib.contextmanager
    def _writing(self) -> Iterator[None]:
        if self._failed is not None:
            raise WriteError(f"the journal at {self.path} takes no more: {self._failed}")
        try:
            with database.transaction(self._database):
                yield
        except apsw.Error as error:
            self._tails.clear()
            self._fail(error)
            raise WriteError(f"the journal at {self.path} cannot be written ({error})") from error
        except BaseException:
            self._tails.clear()
            raise

    def _fail(self, error: apsw.Error) -> None:
        self._failed = str(error)
        # Closing must not write either: what is in the log stays for the next start.
        self._database.config(apsw.SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, 1)

    def _count_log(self, _: apsw.Connection, __: str, pages: int) -> int:
        self._log_pages = pages
        return apsw.SQLITE_OK

    def _checkpoint(self) -> None:
        """Move a long log into the main file. Its content is safe in the log already,
        so a failure here loses nothing; it only ends the use of this file."""
        if self._log_pages < CHECKPOINT_PAGES:
            return
        try:
            self._database.wal_checkpoint(mode=apsw.SQLITE_CHECKPOINT_PASSIVE)
        except apsw.BusyError:
            return
        except apsw.Error as error:
            self._fail(error)


def clean_note(note: str) -> str:
    """A note as it may be stored and printed: lines of what a terminal can show."""
    lines = note.encode("utf-8", "replace").decode().splitlines()
    return "\n".join("".join(c if c.isprintable() else " " for c in line) for line in lines)


def clean_name(name: str) -> str:
    """A cook's name as it may be stored and printed; `JournalError` if nothing is left."""
    text = " ".join("".join(c if c.isprintable() else " " for c in name).split())[:NAME_LENGTH]
    if not text or text == "last":
        raise JournalError(f"{name[:NAME_LENGTH]!r} cannot be a cook's name; use other words")
    return text


def hold(path: Path) -> FileLock:
    """The writer's lock; the system drops it when the process ends, however it ends."""
    lock = FileLock(f"{path}.lock", mode=0o600)
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        lock.acquire(blocking=False)
    except Timeout as error:
        raise HeldError(*_holder(path)) from error
    except OSError as error:
        raise JournalError(
            f"the journal at {path} cannot be opened ({database.reason(error)}): "
            "set XDG_DATA_HOME to a folder you can write to"
        ) from error
    return lock


def _holder(path: Path) -> tuple[int | None, float | None]:
    with contextlib.suppress(JournalError), JournalReader(path) as journal:
        holder = journal.setting(HOLDER) or {}
        return holder.get("pid"), holder.get("since_s")
    return None, None
