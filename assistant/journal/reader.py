"""Reading a journal: cooks, events, settings. Also beside a process that writes."""

import contextlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

import apsw

from assistant.cook.vocabulary.events import Recorded
from assistant.journal import codec, database
from assistant.journal.errors import DamagedJournalError, JournalError

NAME_LENGTH = 80
FOREIGN = "foreign"  # ids of the cooks that came from a file
SHORTEST_ID = 4  # characters of an id that a person may type

_EVENTS = "SELECT seq, at_s, name, slots, seal FROM events"
_SUMMARY = """
SELECT c.id, c.name, c.note, c.began_s,
       (SELECT count(*) FROM events e WHERE e.cook = c.number),
       (SELECT at_s FROM events e WHERE e.cook = c.number ORDER BY seq DESC LIMIT 1),
       (SELECT at_s FROM events e WHERE e.cook = c.number AND e.name = 'end_cook'
           AND NOT EXISTS (SELECT 1 FROM events u WHERE u.cook = e.cook AND u.name = 'undo'
                           AND json_extract(u.slots, '$.target') = e.seq)
        ORDER BY seq DESC LIMIT 1)
FROM cooks c ORDER BY c.began_s, c.number
"""


@dataclass(frozen=True, slots=True)
class CookInfo:
    """A cook in the journal. `ended_s` None: unfinished. Times are epoch seconds."""

    id: str
    name: str
    note: str
    began_s: float
    events: int = 0
    last_s: float | None = None
    ended_s: float | None = None


@dataclass(frozen=True, slots=True)
class Snapshot:
    """A kept state: after which event, by which code, and sealed (`journal.snapshots`)."""

    seq: int
    version: str
    state: str
    seal: bytes


class JournalReader:
    """The journal at `path`, read only; what a writer commits meanwhile is seen.

    Raises `JournalError` where the file is missing, damaged or newer; so may
    every method.
    """

    def __init__(self, path: Path) -> None:
        self.path = path
        self._database = database.open_to_watch(path)

    def close(self) -> None:
        """Let go of the file."""
        self._database.close()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def setting(self, key: str) -> Any:
        """The JSON value kept under `key`, or None."""
        return self.settings().get(key)

    def settings(self) -> dict[str, Any]:
        """All JSON values by key."""
        found = {}
        for key, value in self._rows("SELECT key, value FROM settings"):
            with contextlib.suppress(ValueError, TypeError, RecursionError):  # damaged: not kept
                found[str(key)] = json.loads(value)
        return found

    def cooks(self) -> tuple[CookInfo, ...]:
        """All cooks, the one that began first coming first."""
        return tuple(_cook(row) for row in self._rows(_SUMMARY))

    def roster(self) -> tuple[CookInfo, ...]:
        """All cooks without their events, which may be damaged."""
        sql = "SELECT id, name, note, began_s FROM cooks ORDER BY number"
        return tuple(_cook(row) for row in self._rows(sql))

    def unfinished(self) -> CookInfo | None:
        """The latest cook of our own that has events and has not ended."""
        foreign = self.setting(FOREIGN) or ()
        waiting = [
            cook
            for cook in self.cooks()
            if cook.events and cook.ended_s is None and cook.id not in foreign
        ]
        return waiting[-1] if waiting else None

    def find(self, which: str = "last") -> CookInfo:
        """A cook by "last", its name (the latest of that name), its id or an id's start."""
        cooks = [cook for cook in self.cooks() if cook.events]
        if which == "last" and cooks:
            return cooks[-1]
        wanted = which.strip().casefold()
        named = [cook for cook in cooks if cook.name.casefold() == wanted]
        started = [cook for cook in cooks if cook.id.startswith(wanted)]
        if named or (len(wanted) >= SHORTEST_ID and len(started) == 1):
            return (named or started)[-1]
        if not cooks:
            raise JournalError(f"the journal at {self.path} holds no cook yet")
        known = ", ".join(cook.name or cook.id[:8] for cook in cooks[-5:])
        raise JournalError(f"no cook is called {which[:NAME_LENGTH]!r}; the latest are: {known}")

    def events(self, cook_id: str, after: int = 0) -> tuple[Recorded, ...]:
        """A cook's events with places above `after`, in order.

        `DamagedJournalError` names the first event that is not what was written.
        """
        before = self._seal_at(cook_id, after)
        recorded = []
        for seq, row in enumerate(self.rows(cook_id, after), after + 1):
            if row.seq != seq or row.seal != codec.seal_after(before, row):
                raise DamagedJournalError(
                    f"event {seq} of cook {cook_id[:8]} is not what was written; "
                    "run: turnspit check"
                )
            before = row.seal
            recorded.append(codec.to_recorded(row))
        return tuple(recorded)

    def rows(self, cook_id: str, after: int = 0) -> tuple[codec.Row, ...]:
        """A cook's events as they are stored; their seals are not looked at."""
        sql = f"{_EVENTS} WHERE cook = ? AND seq > ? ORDER BY seq"
        rows = self._rows(sql, (self._number(cook_id), after))
        return tuple(codec.Row(*row) for row in rows)

    def row(self, cook_id: str, seq: int) -> codec.Row | None:
        """One event as it is stored."""
        rows = self._rows(f"{_EVENTS} WHERE cook = ? AND seq = ?", (self._number(cook_id), seq))
        return codec.Row(*rows[0]) if rows else None

    def snapshot(self, cook_id: str) -> Snapshot | None:
        """The state kept last of a cook, as it is stored."""
        sql = "SELECT seq, version, state, seal FROM snapshots WHERE cook = ?"
        rows = self._rows(sql, (self._number(cook_id),))
        return Snapshot(*rows[0]) if rows else None

    def integrity(self) -> tuple[str, ...]:
        """What SQLite itself finds wrong with the file; empty if nothing."""
        found = [str(row[0]) for row in self._rows("PRAGMA integrity_check")]
        return () if found == ["ok"] else tuple(found)

    def _rows(self, sql: str, values: tuple[object, ...] = ()) -> list[tuple[Any, ...]]:
        try:
            return self._database.execute(sql, values).fetchall()
        except database.DAMAGE as error:
            raise DamagedJournalError(
                f"the journal at {self.path} is damaged ({error}); run: turnspit check"
            ) from error
        except apsw.Error as error:
            raise JournalError(f"the journal at {self.path} cannot be read ({error})") from error

    def _seal_at(self, cook_id: str, seq: int) -> bytes:
        if seq == 0:
            return codec.first_seal(cook_id)
        if (row := self.row(cook_id, seq)) is None:
            raise JournalError(f"cook {cook_id[:8]} has no event {seq}")
        return row.seal

    def _number(self, cook_id: str) -> int:
        # Not by the index: should that be damaged, the cook is still found.
        rows = self._rows("SELECT number FROM cooks NOT INDEXED WHERE id = ?", (cook_id,))
        if not rows:
            raise JournalError(f"the journal has no cook with the id {cook_id[:NAME_LENGTH]!r}")
        return int(rows[0][0])


def _cook(row: tuple[Any, ...]) -> CookInfo:
    cook = CookInfo(*row)
    texts = (cook.id, cook.name, cook.note)
    if not all(isinstance(text, str) for text in texts) or not isinstance(cook.began_s, float):
        raise DamagedJournalError("the list of cooks is damaged; run: turnspit check")
    return cook
