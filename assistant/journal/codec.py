"""One event as one line of the journal, sealed by a chained checksum."""

import hashlib
import json
from dataclasses import dataclass, replace

from assistant.cook.vocabulary.codec import (
    CodecError,
    UnknownNameError,
    event_from_json,
    event_json,
)
from assistant.cook.vocabulary.events import Event, Recorded
from assistant.journal.errors import DamagedJournalError, JournalError, NewerJournalError

SEAL_BYTES = 8


@dataclass(frozen=True, slots=True)
class Row:
    """An event as it is stored. `slots` is ASCII JSON; `seal` covers this row and
    the seal before it, so a changed, missing or moved row is found and located."""

    seq: int
    at_s: float
    name: str
    slots: str
    seal: bytes


def first_seal(cook_id: str) -> bytes:
    """The seal before a cook's first event."""
    return hashlib.blake2b(cook_id.encode(), digest_size=SEAL_BYTES).digest()


def seal_after(before: bytes, row: Row) -> bytes:
    """The seal this row must have where the seal before it is `before`."""
    text = f"{row.seq}\n{row.at_s!r}\n{row.name}\n{row.slots}"
    return hashlib.blake2b(before + text.encode(), digest_size=SEAL_BYTES).digest()


def to_row(recorded: Recorded, before: bytes) -> Row:
    """The row to store after the seal `before`; `JournalError` if JSON cannot hold it."""
    name, slots = event_json(recorded.event)
    try:
        text = json.dumps(slots, separators=(",", ":"), allow_nan=False)
    except ValueError as error:
        raise JournalError(f"{name} cannot be recorded: {error}") from error
    row = Row(recorded.seq, recorded.at_s, name, text, b"")
    return replace(row, seal=seal_after(before, row))


def to_recorded(row: Row) -> Recorded:
    """The event of a row; an unknown name means that the journal is newer."""
    try:
        slots = json.loads(row.slots)
    except (ValueError, RecursionError) as error:
        raise DamagedJournalError(
            f"event {row.seq} ({row.name!r}) is damaged: {error}; run: turnspit check"
        ) from error
    return Recorded(row.seq, row.at_s, to_event(row.seq, row.name, slots))


def to_event(seq: int, name: str, slots: object) -> Event:
    """The event of a name and decoded slots; `seq` is only for the message."""
    try:
        return event_from_json(name, slots)
    except UnknownNameError as error:
        raise NewerJournalError(
            f"event {seq} is a {name!r}, which this version does not know: "
            "the journal was written by a newer Turnspit; update to read it"
        ) from error
    except CodecError as error:
        raise DamagedJournalError(f"event {seq} cannot be read: {error}") from error
