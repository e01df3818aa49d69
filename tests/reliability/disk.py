"""What a disk can hold after the power has gone, given the steps that were taken.

A file's bytes are safe once it was synced. Of the steps since then any may have
reached the disk, in any order, and a write may have reached it in part, by
sectors of 512 bytes. A new file is safe to be there once it was synced; a
deleted one may come back until the folder is synced, which SQLite does with the
first sync of each new log (seen once in a system-call trace; no test repeats it), or
until somebody else syncs it. The same holds of a renamed one.
"""

import hashlib
import random
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.reliability.storage import (
    Create,
    Delete,
    Mark,
    Rename,
    Step,
    Sync,
    SyncFolder,
    Truncate,
    Write,
)

SECTOR = 512
Change = Create | Write | Truncate | Delete | Rename
Image = dict[str, bytes]  # file name -> content


def images(
    steps: Sequence[Step], *, chance: random.Random, before: Image | None = None
) -> Iterator[tuple[int, str, Image]]:
    """Every crash point with its ways: (facts acknowledged by then, how, image).

    `before` is safe on the disk from the start. The same image comes up only once for the
    same number of facts.
    """
    disk = _Disk({name: bytearray(content) for name, content in (before or {}).items()})
    facts, seen = 0, set()
    for number, step in enumerate(steps, 1):
        if isinstance(step, Mark):
            facts = step.facts
        disk.take(step)
        for how, kept in _ways(disk.pending, chance):
            image = _image(_after(disk.safe, kept))
            key = (facts, _digest(image))
            if key not in seen:
                seen.add(key)
                yield facts, f"step {number}, {how}", image


def after_power_cut(before: Image, steps: Sequence[Step], chance: random.Random) -> Image:
    """The disk as one power cut after these steps could leave it, `before` being on it."""
    disk = _Disk({name: bytearray(content) for name, content in before.items()})
    for step in steps:
        disk.take(step)
    kept = [
        part
        for step in disk.pending
        for part in _sectors(step)
        if isinstance(part, Create) or chance.random() < 0.5
    ]
    return _image(_after(disk.safe, kept))


class _Disk:
    """What is safe on the disk, and the changes that are not yet."""

    def __init__(self, safe: dict[str, bytearray]) -> None:
        self.safe = safe
        self.pending: list[Change] = []
        self._new_logs: set[str] = set()

    def take(self, step: Step) -> None:
        if isinstance(step, Mark):
            return
        if isinstance(step, SyncFolder):
            self._keep([one for one in self.pending if _names(one)])
            return
        if isinstance(step, Sync):
            is_new = step.file in self._new_logs
            self._new_logs.discard(step.file)
            kept = [
                one for one in self.pending if one.file == step.file or (is_new and _names(one))
            ]
            self._keep(kept)
            return
        self.pending.append(step)
        if isinstance(step, Create) and step.file.endswith(("-wal", "-journal")):
            self._new_logs.add(step.file)

    def _keep(self, kept: list[Change]) -> None:
        self.safe = _after(self.safe, kept)
        self.pending = [one for one in self.pending if one not in kept]


def _image(files: dict[str, bytearray]) -> Image:
    return {name: bytes(content) for name, content in files.items()}


def _names(change: Change) -> bool:
    return isinstance(change, Create | Delete | Rename)


def lay_out(image: Image, folder: Path) -> None:
    """Write the files of an image into an empty folder."""
    for name, content in image.items():
        (folder / name).write_bytes(content)


def _ways(pending: list[Change], chance: random.Random) -> Iterator[tuple[str, list[Change]]]:
    yield "all written", pending
    if not pending:
        return
    yield "nothing written", []
    for place in range(len(pending)):
        yield f"without {place}", pending[:place] + pending[place + 1 :]
    for place, step in enumerate(pending):
        if isinstance(step, Write) and len(step.data) > 1:
            half = max(len(step.data) // 2 // SECTOR * SECTOR, 1)
            for part in (_part(step, 0, half), _part(step, half, len(step.data))):
                yield f"torn {place}", [*pending[:place], part, *pending[place + 1 :]]
    for _ in range(3):
        some = [part for step in pending for part in _sectors(step) if chance.random() < 0.5]
        yield "some sectors", some


def _part(step: Write, start: int, end: int) -> Write:
    return Write(step.file, step.offset + start, step.data[start:end])


def _sectors(step: Change) -> list[Change]:
    if not isinstance(step, Write):
        return [step]
    return [
        _part(step, start, min(start + SECTOR, len(step.data)))
        for start in range(0, len(step.data), SECTOR)
    ]


def _after(safe: dict[str, bytearray], steps: Sequence[Change]) -> dict[str, bytearray]:
    files = dict(safe)
    for step in steps:
        match step:
            case Create(file):
                files[file] = bytearray()
            case Write(file, offset, data):
                content = bytearray(files.get(file, b"")).ljust(offset, b"\0")
                content[offset : offset + len(data)] = data
                files[file] = content
            case Truncate(file, size):
                if file in files:
                    files[file] = bytearray(files[file][:size]).ljust(size, b"\0")
            case Delete(file):
                files.pop(file, None)
            case Rename(file, to):
                if file in files:
                    files[to] = files.pop(file)
    return files


def _digest(image: Image) -> bytes:
    digest = hashlib.sha256()
    for name in sorted(image):
        digest.update(f"{name} {len(image[name])}\n".encode() + image[name])
    return digest.digest()
