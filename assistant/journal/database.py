"""The journal's SQLite file: created, migrated and opened with explicit durability.

APSW rather than the standard sqlite3 module: it brings one known SQLite with it
on every machine, and its storage layer can be replaced from Python, so that the
crash and fault tests run on the very code that ships.
"""

import contextlib
import os
from collections.abc import Iterator
from pathlib import Path

import apsw

from assistant.journal import wal
from assistant.journal.errors import DamagedJournalError, JournalError, NewerJournalError

APPLICATION_ID = 0x54535054  # "TSPT", so that `file` and we know the journal as ours
SCHEMA = 1
SYNCHRONOUS = "full"  # in write-ahead mode: every commit syncs the log
# Our own SQL never changes, so an error in it means that the tables are not as we made them.
DAMAGE = (apsw.NotADBError, apsw.CorruptError, apsw.SQLError, UnicodeDecodeError)
BUSY_MS = 2_000

_TABLES = """
CREATE TABLE cooks (
    number  INTEGER PRIMARY KEY,
    id      TEXT NOT NULL UNIQUE,
    name    TEXT NOT NULL,
    note    TEXT NOT NULL DEFAULT '',
    began_s REAL NOT NULL
) STRICT;
CREATE TABLE events (
    cook  INTEGER NOT NULL REFERENCES cooks (number) ON DELETE CASCADE,
    seq   INTEGER NOT NULL,
    at_s  REAL NOT NULL,
    name  TEXT NOT NULL,
    slots TEXT NOT NULL,
    seal  BLOB NOT NULL,
    PRIMARY KEY (cook, seq)
) WITHOUT ROWID, STRICT;
CREATE TABLE snapshots (
    cook    INTEGER PRIMARY KEY REFERENCES cooks (number) ON DELETE CASCADE,
    seq     INTEGER NOT NULL,
    version TEXT NOT NULL,
    state   TEXT NOT NULL,
    seal    BLOB NOT NULL
) STRICT;
CREATE TABLE settings (key TEXT PRIMARY KEY, value TEXT NOT NULL) WITHOUT ROWID, STRICT;
"""

# How to bring a journal of schema N to N + 1, by N. Never edit one that shipped.
_MIGRATIONS: dict[int, str] = {}


def open_to_write(path: Path, vfs: str = "") -> apsw.Connection:
    """The journal at `path`, created or migrated where needed, owner-only.

    Raises `JournalError` where it cannot be opened, `NewerJournalError`,
    `DamagedJournalError`. The caller holds the writer's lock.
    """
    with _explained(path):
        _make_private(path)
        wal.check(path)
        database = apsw.Connection(str(path), vfs=vfs or None)
        try:
            _set_up(database, path)
        except BaseException:
            database.close()
            raise
        return database


def open_to_watch(path: Path) -> apsw.Connection:
    """The journal at `path`, read only, beside whoever writes it."""
    if not path.exists():
        raise JournalError(f"there is no journal at {path} yet: cook first, or import one")
    _check_plain(path)
    with _explained(path):
        try:
            return _watched(str(path), path)
        except (apsw.CantOpenError, apsw.ReadOnlyError):
            # A folder nobody may write to: safe to read as it lies if no log is pending.
            if path.with_name(path.name + "-wal").exists():
                raise
            return _watched(f"{path.absolute().as_uri()}?immutable=1", path)


def _watched(name: str, path: Path) -> apsw.Connection:
    flags = apsw.SQLITE_OPEN_READONLY | apsw.SQLITE_OPEN_URI
    database = apsw.Connection(name, flags=flags)
    try:
        database.set_busy_timeout(BUSY_MS)
        if _version(database, path) == 0:
            raise JournalError(f"the journal at {path} is empty")
    except BaseException:
        database.close()
        raise
    return database


def _check_plain(path: Path) -> None:
    """A pipe or a device would be waited for without end. Raises JournalError."""
    if path.exists() and not path.is_file():
        raise JournalError(f"the journal at {path} is not a file: move it away")


def _make_private(path: Path) -> None:
    """The file and its folder exist and are for their owner only (as are -wal and -shm)."""
    if not path.parent.is_dir():
        path.parent.mkdir(mode=0o700, parents=True)
    _check_plain(path)
    os.close(os.open(path, os.O_RDWR | os.O_CREAT, 0o600))
    if path.stat().st_mode & 0o077:
        path.chmod(0o600)


def _set_up(database: apsw.Connection, path: Path) -> None:
    database.set_busy_timeout(BUSY_MS)
    version = _version(database, path)
    database.pragma("journal_mode", "wal")
    database.pragma("synchronous", SYNCHRONOUS)
    database.pragma("foreign_keys", "on")
    database.pragma("secure_delete", "on")  # a deleted cook is gone
    database.wal_autocheckpoint(0)  # the store checkpoints, so that it sees a failure
    if version < SCHEMA:
        with transaction(database):
            for step in range(version, SCHEMA):
                database.execute(_MIGRATIONS[step] if step else _TABLES)
            database.pragma("application_id", APPLICATION_ID)
            database.pragma("user_version", SCHEMA)


def _version(database: apsw.Connection, path: Path) -> int:
    """The schema number; 0 is an empty file."""
    version, owner = database.pragma("user_version"), database.pragma("application_id")
    if (
        owner == 0
        and version == 0
        and not database.execute("SELECT * FROM sqlite_schema").fetchall()
    ):
        return 0
    if owner != APPLICATION_ID:
        raise JournalError(f"{path} is a database, but not a Turnspit journal; choose another file")
    if version > SCHEMA:
        raise NewerJournalError(
            f"the journal at {path} was written by a newer Turnspit (format {version}, "
            f"this one knows {SCHEMA}): update Turnspit; nothing was changed"
        )
    return int(version)


@contextlib.contextmanager
def transaction(database: apsw.Connection) -> Iterator[None]:
    """All or nothing: committed, and synced, when the block has ended."""
    database.execute("BEGIN IMMEDIATE")
    try:
        yield
        database.execute("COMMIT")
    except BaseException:
        if database.in_transaction:
            with contextlib.suppress(apsw.Error):
                database.execute("ROLLBACK")
        raise


@contextlib.contextmanager
def _explained(path: Path) -> Iterator[None]:
    try:
        yield
    except DAMAGE as error:
        raise DamagedJournalError(f"the journal at {path} is damaged ({error})") from error
    except (apsw.Error, OSError) as error:
        raise JournalError(
            f"the journal at {path} cannot be opened ({reason(error)}): free space there, "
            "or set XDG_DATA_HOME to a folder you can write to"
        ) from error


def reason(error: Exception) -> str:
    """What the system said, without Python's numbers."""
    return error.strerror if isinstance(error, OSError) and error.strerror else str(error)
