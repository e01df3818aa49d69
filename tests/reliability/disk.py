"""What a disk can hold after the power has gone, given the steps that were taken.

A file's bytes are safe once it was synced. Of the steps since then any may have
reached the disk, in any order, and a write may have reached it in part, by
sectors of 512 bytes. A new file is safe to be there once it was synced; a
deleted one may come back until the folder is synced, which SQLite does with the
first sync of each new log (a test traces that it does).
"""

import hashlib
import random
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.reliability.storage import Create, Delete, Mark, Step, Sync, Truncate, Write

SECTOR = 512
Change = Create | Write | Truncate | Delete
Image = dict[str, bytes]  # file name -> content


def images(steps: Sequence[Step], *, chance: random.Random) -> Iterator[tuple[int, str, Image]]:
    """Every crash point with its ways: (facts acknowledged by then, how, image).

    The same image comes up only once for the same number of facts.
    """
    safe: dict[str, bytearray] = {}
    pending: list[Change] = []
    facts, seen, new_logs = 0, set(), set()
    for number, step in enumerate(steps, 1):
        match step:
            case Mark(facts):
                pass
            case Sync(file) if file in new_logs:
                new_logs.remove(file)
                kept = [one for one in pending if one.file == file or _names(one)]
                safe = _after(safe, kept)
                pending = [one for one in pending if one not in kept]
            case Sync(file):
                safe = _after(safe, [one for one in pending if one.file == file])
                pending = [one for one in pending if one.file != file]
            case _:
                pending.append(step)
                if isinstance(step, Create) and step.file.endswith(("-wal", "-journal")):
                    new_logs.add(step.file)
        for how, kept in _ways(pending, chance):
            image = {name: bytes(data) for name, data in _after(safe, kept).items()}
            key = (facts, _digest(image))
            if key not in seen:
                seen.add(key)
                yield facts, f"step {number}, {how}", image


def _names(change: Change) -> bool:
    return isinstance(change, Create | Delete)


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
                files.setdefault(file, bytearray())
            case Write(file, offset, data):
                content = bytearray(files.get(file, b"")).ljust(offset, b"\0")
                content[offset : offset + len(data)] = data
                files[file] = content
            case Truncate(file, size):
                if file in files:
                    files[file] = bytearray(files[file][:size]).ljust(size, b"\0")
            case Delete(file):
                files.pop(file, None)
    return files


def _digest(image: Image) -> bytes:
    digest = hashlib.sha256()
    for name in sorted(image):
        digest.update(f"{name} {len(image[name])}\n".encode() + image[name])
    return digest.digest()
