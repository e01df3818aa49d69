"""Storage that remembers and storage that fails, put under the SQLite that ships.

`Recorder` keeps every write, truncation, sync and deletion in order, so that the
disk can be rebuilt as a power cut at any instant could have left it. `Faulty`
fails the Nth call of the storage layer. `failing_calls` fails the Nth system
call under SQLite with an errno, without a compiler or a tracer.
"""

import contextlib
import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import apsw


@dataclass(frozen=True, slots=True)
class Create:
    file: str


@dataclass(frozen=True, slots=True)
class Write:
    file: str
    offset: int
    data: bytes


@dataclass(frozen=True, slots=True)
class Truncate:
    file: str
    size: int


@dataclass(frozen=True, slots=True)
class Sync:
    file: str


@dataclass(frozen=True, slots=True)
class Delete:
    file: str


@dataclass(frozen=True, slots=True)
class Rename:
    """What stood at `to` is gone."""

    file: str
    to: str


@dataclass(frozen=True, slots=True)
class SyncFolder:
    """What was created, renamed and deleted is safe."""


@dataclass(frozen=True, slots=True)
class Mark:
    """So many facts have been acknowledged by now."""

    facts: int


Step = Create | Write | Truncate | Sync | Delete | Rename | SyncFolder | Mark


class Recorder(apsw.VFS):
    """Records into `steps`. Use it by its name: `Journal(path, vfs=recorder.name)`.

    `base` names the storage below it, the system's own if empty.
    """

    def __init__(self, name: str, base: str = "") -> None:
        self.name = name
        self.base = base
        self.steps: list[Step] = []
        super().__init__(name, base)

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:  # noqa: N802 -- SQLite's name
        return _RecordedFile(self, name, flags)

    def xDelete(self, filename: str, syncdir: bool) -> None:  # noqa: N802
        super().xDelete(filename, syncdir)
        self.steps.append(Delete(Path(filename).name))


class _RecordedFile(apsw.VFSFile):
    def __init__(self, recorder: Recorder, name: Any, flags: list[int]) -> None:
        path = Path(name.filename() if isinstance(name, apsw.URIFilename) else str(name))
        self._steps, self._file = recorder.steps, path.name
        is_new = not path.exists() or path.stat().st_size == 0
        super().__init__(recorder.base, name, flags)
        if is_new:
            self._steps.append(Create(self._file))

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        super().xWrite(data, offset)
        self._steps.append(Write(self._file, offset, bytes(data)))

    def xTruncate(self, newsize: int) -> None:  # noqa: N802
        super().xTruncate(newsize)
        self._steps.append(Truncate(self._file, newsize))

    def xSync(self, flags: int) -> None:  # noqa: N802
        super().xSync(flags)
        self._steps.append(Sync(self._file))


class Faulty(apsw.VFS):
    """Fails call number `fail_at` (from 1) of those that read, write, sync, cut or delete.

    `lasting`: every later call fails too, as on a full or broken disk.
    """

    def __init__(self, name: str) -> None:
        self.name = name
        self.calls = 0
        self.failed = 0
        self.fail_at = 0
        self.error: type[apsw.Error] = apsw.IOError
        self.lasting = False
        self.only: frozenset[str] = frozenset()
        super().__init__(name, "")

    def arm(
        self, fail_at: int, error: type[apsw.Error], *, lasting: bool = False, only: str = ""
    ) -> None:
        """Fail from now on; `only` names the kinds of call that count, all if empty."""
        self.calls, self.fail_at, self.error, self.lasting = 0, fail_at, error, lasting
        self.failed = 0
        self.only = frozenset(only.split())

    def count(self, kind: str) -> None:
        """One call of this kind; raises if it is the one to fail."""
        if not self.fail_at or (self.only and kind not in self.only):
            return
        self.calls += 1
        if self.calls == self.fail_at or (self.lasting and self.calls > self.fail_at):
            self.failed += 1
            raise self.error(f"injected at {kind} {self.calls}")

    def xOpen(self, name: Any, flags: list[int]) -> apsw.VFSFile:  # noqa: N802
        self.count("open")
        return _FaultyFile(self, name, flags)

    def xDelete(self, filename: str, syncdir: bool) -> None:  # noqa: N802
        self.count("delete")
        super().xDelete(filename, syncdir)

    def xAccess(self, pathname: str, flags: int) -> bool:  # noqa: N802
        self.count("access")
        return super().xAccess(pathname, flags)


class _FaultyFile(apsw.VFSFile):
    def __init__(self, storage: Faulty, name: Any, flags: list[int]) -> None:
        self._storage = storage
        super().__init__("", name, flags)

    def xRead(self, amount: int, offset: int) -> bytes:  # noqa: N802
        self._storage.count("read")
        return super().xRead(amount, offset)

    def xWrite(self, data: bytes, offset: int) -> None:  # noqa: N802
        self._storage.count("write")
        super().xWrite(data, offset)

    def xTruncate(self, newsize: int) -> None:  # noqa: N802
        self._storage.count("truncate")
        super().xTruncate(newsize)

    def xSync(self, flags: int) -> None:  # noqa: N802
        self._storage.count("sync")
        super().xSync(flags)

    def xFileSize(self) -> int:  # noqa: N802
        self._storage.count("size")
        return super().xFileSize()


@dataclass(slots=True)
class Calls:
    """How often the system call was made, and how often it was made to fail."""

    made: int = 0
    failed: int = 0


# Every call that SQLite makes through its table takes at most six words and gives one.
_CALL = ctypes.CFUNCTYPE(ctypes.c_long, *[ctypes.c_long] * 6, use_errno=True)


@contextlib.contextmanager
def failing_calls(name: str, nth: int, error: int, *, lasting: bool = False) -> Iterator[Calls]:
    """System call `name` ("pwrite64", "open", ...) fails the nth time with errno `error`."""
    table = apsw.VFS(f"system-calls-{name}-{nth}-{error}", "")
    real = _CALL(table.xGetSystemCall(name))  # type: ignore[arg-type]
    calls = Calls()

    def call(*words: int) -> int:
        calls.made += 1
        if calls.made == nth or (lasting and calls.made > nth):
            calls.failed += 1
            ctypes.set_errno(error)
            return -1
        return int(real(*words))

    replacement = _CALL(call)
    table.xSetSystemCall(name, ctypes.cast(replacement, ctypes.c_void_p).value)  # type: ignore[arg-type]
    try:
        yield calls
    finally:
        table.xSetSystemCall(name, 0)
        table.unregister()
