"""Plain files as the program writes them, recorded beside what SQLite does to its own."""

import contextlib
import io
import os
import stat
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from unittest import mock

from tests.reliability.storage import Create, Delete, Rename, Step, Sync, SyncFolder, Write

NOT_KEPT = ".lock"  # the system drops a lock with its process: what is on the disk of it is nothing


@contextlib.contextmanager
def recorded(folder: Path, steps: list[Step]) -> Iterator[None]:
    """Within this what happens to files of `folder` through `os` is added to `steps`.

    Raises AssertionError where a file can ever be read by others, under any mask.
    """
    real_open, real_fdopen, real_fsync = os.open, os.fdopen, os.fsync
    names: dict[int, str] = {}

    def ours(path: Any) -> str | None:
        one = Path(os.fsdecode(path))
        return one.name if one.parent == folder and one.suffix != NOT_KEPT else None

    def opened(path: Any, flags: int, mode: int = 0o777, **more: Any) -> int:
        is_new = not Path(os.fsdecode(path)).exists()
        handle = real_open(path, flags, mode, **more)
        if (name := ours(path)) is not None:
            names[handle] = name
            assert stat.S_IMODE(os.fstat(handle).st_mode) == 0o600, f"{name} is open to others"
            if is_new:
                steps.append(Create(name))
        elif Path(os.fsdecode(path)) == folder:
            names[handle] = ""
        return handle

    def as_file(handle: int, *words: Any, **more: Any) -> Any:
        if handle not in names:
            return real_fdopen(handle, *words, **more)
        return _Plain(handle, names[handle], steps)

    def synced(handle: int) -> None:
        real_fsync(handle)
        if (name := names.get(handle)) is not None:
            steps.append(Sync(name) if name else SyncFolder())

    def unlinked(path: Any, **more: Any) -> None:
        real_unlink(path, **more)
        if (name := ours(path)) is not None:
            steps.append(Delete(name))

    def replaced(one: Any, other: Any, **more: Any) -> None:
        real_replace(one, other, **more)
        if (name := ours(one)) is not None:
            steps.append(Rename(name, Path(os.fsdecode(other)).name))

    def closed(handle: int) -> None:
        names.pop(handle, None)
        real_close(handle)

    real_unlink, real_replace, real_close = os.unlink, os.replace, os.close
    mask = os.umask(0)
    try:
        with contextlib.ExitStack() as patched:
            for name, instead in {
                "open": opened, "fdopen": as_file, "fsync": synced, "unlink": unlinked,
                "replace": replaced, "close": closed,
            }.items():  # fmt: skip
                patched.enter_context(mock.patch.object(os, name, instead))
            yield
    finally:
        os.umask(mask)


class _Plain(io.FileIO):
    """A new file that is written from its start on; every write is a step."""

    def __init__(self, handle: int, name: str, steps: list[Step]) -> None:
        super().__init__(handle, "wb")
        self._name, self._steps = name, steps

    def write(self, data: Any, /) -> int:
        offset = self.tell()
        written = super().write(data)
        self._steps.append(Write(self._name, offset, bytes(data)[:written]))
        return written
