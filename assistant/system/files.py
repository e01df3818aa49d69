"""Writing a file whole or not at all."""

import os
from pathlib import Path


def write_whole(path: Path, data: bytes) -> None:
    """Put `data` at `path`, on disk when this returns; what stood there stays until then.

    Raises OSError, and leaves nothing behind.
    """
    beside = path.with_name(path.name + ".part")
    try:
        with beside.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except OSError:
        beside.unlink(missing_ok=True)
        raise
