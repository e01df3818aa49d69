"""The write-ahead log under the journal, read as bytes.

SQLite reads a log up to the first frame whose checksum is wrong and passes over what
follows, silently: that is right for a commit cut off by a power cut, but a bit that
flipped in an old frame takes every later fact with it. Here the two are told apart.
Each commit is synced before the next begins, so a whole commit *after* the one with the
wrong frame was on disk once.

Format: https://www.sqlite.org/fileformat2.html#the_write_ahead_log
"""

import struct
from dataclasses import dataclass
from pathlib import Path

from assistant.journal.errors import DamagedJournalError

HEADER, FRAME = 32, 24  # bytes before the first frame, and before each page
_MAGIC, _VERSION = 0x377F0682, 3_007_000  # the lowest bit of the magic: big-endian sums
_MOST_BYTES = 256 * 1024 * 1024
Sums = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Log:
    """A log as it lies: `whole[i]` tells that frame i fits what the frame before says,
    `commits` which frames end a commit. `trusted`: frames that SQLite will read, none
    where the header is damaged."""

    data: bytes
    page_bytes: int
    is_big: bool
    salts: bytes
    whole: tuple[bool, ...]
    commits: tuple[int, ...]
    trusted: int
    has_header: bool

    @property
    def last(self) -> int | None:
        """The commit that the log once reached beyond what is read of it; None if it
        ends as a power cut may leave it."""
        later = [one for one in self.commits if one >= self.trusted]
        if self.has_header:  # the first of them holds the wrong frame
            later = later[1:]
        behind = [one for one in later if self.whole[one]]
        return behind[-1] if behind else None


def check(journal: Path) -> None:
    """Raise DamagedJournalError where facts lie behind a damaged place of the log: whoever
    went on writing would write over them."""
    log = read(journal)
    if log is not None and log.last is not None:
        raise DamagedJournalError(
            f"the log of the journal at {journal} is damaged, and facts lie behind the place; "
            "run: turnspit cooks mend"
        )


def read(journal: Path) -> Log | None:
    """The log of the journal at `journal`; None where there is none that can be looked at."""
    try:
        with Path(f"{journal}-wal").open("rb") as file:
            data = file.read(_MOST_BYTES + 1)
        with journal.open("rb") as file:
            page_bytes = _page_bytes(file.read(18)[16:]) or _page_bytes(data[10:12])
    except OSError:
        return None
    if page_bytes is None or not HEADER + FRAME + page_bytes <= len(data) <= _MOST_BYTES:
        return None
    return _log(data, page_bytes)


def mended(log: Log) -> bytes:
    """The log up to its last whole commit with every checksum made to fit. What is wrong in
    a page stays so: the seals of the events tell what that reaches."""
    end = (log.last or 0) + 1
    head = struct.pack(">II", _MAGIC | log.is_big, _VERSION)
    head += struct.pack(">II", log.page_bytes, 0) + log.salts
    sums = _summed(head, (0, 0), is_big=log.is_big)
    out = [head, struct.pack(">II", *sums)]
    for number in range(end):
        start, page = _frame(log.data, log.page_bytes, number)
        sums = _summed(start[:8] + page, sums, is_big=log.is_big)
        out += [start[:8], log.salts, struct.pack(">II", *sums), page]
    return b"".join(out)


def _page_bytes(field: bytes) -> int | None:
    size = int.from_bytes(field, "big")
    return size if size >= 512 and size & (size - 1) == 0 else None


def _log(data: bytes, page_bytes: int) -> Log:
    count = (len(data) - HEADER) // (FRAME + page_bytes)
    frames = [_frame(data, page_bytes, number) for number in range(count)]
    magic, sums = int.from_bytes(data[:4], "big"), _pair(data[24:32])
    is_big = bool(magic & 1)
    has_header = magic & ~1 == _MAGIC and _summed(data[:24], (0, 0), is_big=is_big) == sums
    if not has_header and count > 1:
        is_big = _fits(frames[1], _pair(frames[0][0][16:24]), is_big=True)
    salts = data[16:24] if has_header else frames[0][0][8:16]
    before = [sums, *(_pair(start[16:24]) for start, _ in frames)]
    whole = tuple(
        frame[0][8:16] == salts and _fits(frame, told, is_big=is_big)
        for frame, told in zip(frames, before, strict=False)
    )
    first_wrong = next((n for n, one in enumerate(whole) if not one), count)
    commits = tuple(
        n for n, (start, _) in enumerate(frames) if start[8:16] == salts and any(start[4:8])
    )
    trusted = first_wrong if has_header else 0
    return Log(data, page_bytes, is_big, salts, whole, commits, trusted, has_header)


def _frame(data: bytes, page_bytes: int, number: int) -> tuple[bytes, bytes]:
    at = HEADER + number * (FRAME + page_bytes)
    return data[at : at + FRAME], data[at + FRAME : at + FRAME + page_bytes]


def _fits(frame: tuple[bytes, bytes], before: Sums, *, is_big: bool) -> bool:
    start, page = frame
    return _summed(start[:8] + page, before, is_big=is_big) == _pair(start[16:24])


def _pair(data: bytes) -> Sums:
    one, two = struct.unpack(">II", data)
    return one, two


def _summed(data: bytes, sums: Sums, *, is_big: bool) -> Sums:
    """SQLite's checksum of whole pairs of words, going on from `sums`."""
    one, two = sums
    words = struct.unpack(f"{'>' if is_big else '<'}{len(data) // 4}I", data)
    for first, second in zip(words[::2], words[1::2], strict=True):
        one = (one + first + two) & 0xFFFFFFFF
        two = (two + second + one) & 0xFFFFFFFF
    return one, two
