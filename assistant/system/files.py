"""Writing a file whole or not at all, for its owner only."""

import contextlib
import errno
import os
import stat
import tempfile
from collections.abc import Iterator
from pathlib import Path
from typing import BinaryIO

NOT_PLAIN = "it is a link, a folder, a device or another's file, not a plain file of yours"


@contextlib.contextmanager
def replacing(path: Path, *, sync: bool = True) -> Iterator[BinaryIO]:
    """A file to write that takes the place of `path` when the block ends; what stood there
    stays until then. Its owner alone may read it: it may hold a cook.

    It lies beside `path` under a name nobody can guess. Only a plain file of the user's own
    is replaced. Raises OSError, and then leaves nothing behind.
    """
    if not is_replaceable(path):
        raise OSError(errno.EEXIST, NOT_PLAIN)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=f".{path.name[:40]}.")
    try:
        with os.fdopen(handle, "wb") as file:
            yield file
            file.flush()
            if sync:
                os.fsync(file.fileno())
        if not is_replaceable(path):  # it became something else meanwhile
            raise OSError(errno.EEXIST, NOT_PLAIN)
        Path(name).replace(path)
        if sync:
            sync_folder(path.parent)
    except BaseException:
        with contextlib.suppress(OSError):
            Path(name).unlink()
        raise


def sync_folder(folder: Path) -> None:
    """What was made, renamed and removed in a folder is on disk when this returns, where
    the system can say so of a folder."""
    with contextlib.suppress(OSError):  # Windows opens no folder, and needs no such sync
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def write_whole(path: Path, data: bytes, *, sync: bool = True) -> None:
    """Put `data` at `path`, on disk when this returns (`sync`). As `replacing`."""
    with replacing(path, sync=sync) as file:
        file.write(data)


def is_replaceable(path: Path) -> bool:
    """Nothing is there yet, or a plain file that is the user's own. Raises OSError."""
    try:
        found = path.lstat()
    except FileNotFoundError:
        return True
    owner = getattr(os, "getuid", lambda: found.st_uid)()
    return stat.S_ISREG(found.st_mode) and found.st_uid == owner
