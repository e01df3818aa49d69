"""Cooks as JSON lines: to read, to keep under version control, to bring back in.

A file is one or more cooks. A cook is a header line and a line for each event:

    {"turnspit": 1, "cook": {"id": ..., "name": ..., "note": ..., "began_s": ...}, "events": 2}
    {"seq": 1, "at_s": 1760000000.0, "event": "start_cook", "slots": {...}}
    {"seq": 2, "at_s": 1760000060.0, "event": "fire_lit", "slots": {}}
"""

import json
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from assistant.cook.vocabulary.events import Recorded
from assistant.journal.codec import Row, to_event, to_row
from assistant.journal.database import reason
from assistant.journal.errors import JournalError, NewerJournalError
from assistant.journal.foreign import check_cook
from assistant.journal.reader import CookInfo, JournalReader
from assistant.journal.store import Journal, clean_name, clean_note
from assistant.system.files import replacing

FORMAT = 1
LARGEST_BYTES = 64 * 1024 * 1024  # an evening is a few hundred kB
LONGEST_LINE = 1024 * 1024
MOST_COOKS = 1000  # of one file: twenty years of Sundays
MOST_EVENTS = 50_000  # of one cook: a day of readings is a tenth


@dataclass(frozen=True, slots=True)
class Imported:
    """What an import brought: cooks in the file, events new here, events known before."""

    cooks: int
    new: int
    known: int


@dataclass(frozen=True, slots=True)
class KeptCook:
    """One cook of a file. `declared` is how many events its header promises."""

    info: CookInfo
    recorded: list[Recorded]
    declared: int | None


def lines_of(reader: JournalReader, cook: CookInfo) -> Iterator[str]:
    """The lines of one cook, each with its line end.

    `DamagedJournalError` where an event is not what was written: a file has no seals, and
    read back in it would be sealed as true.
    """
    reader.events(cook.id)
    yield from _lines_of_rows(cook, cook.events, reader.rows(cook.id))


def _lines_of_rows(cook: CookInfo, events: int, rows: Iterable[Row]) -> Iterator[str]:
    who = {"id": cook.id, "name": cook.name, "note": cook.note, "began_s": cook.began_s}
    yield _line({"turnspit": FORMAT, "cook": who, "events": events})
    for row in rows:
        slots = json.loads(row.slots)
        yield _line({"seq": row.seq, "at_s": row.at_s, "event": row.name, "slots": slots})


def export(reader: JournalReader, cooks: Iterable[CookInfo], path: Path) -> None:
    """Write cooks to `path`, whole or not at all; `JournalError` if it cannot be written."""
    _write((lines_of(reader, cook) for cook in cooks), path)


def keep(cooks: Iterable[tuple[CookInfo, Sequence[Recorded]]], path: Path) -> None:
    """The same for cooks that no journal holds whole."""
    _write(
        (
            _lines_of_rows(cook, len(recorded), (to_row(entry, b"") for entry in recorded))
            for cook, recorded in cooks
        ),
        path,
    )


def _write(cooks: Iterable[Iterator[str]], path: Path) -> None:
    try:
        with replacing(path) as file:
            for lines in cooks:
                file.writelines(line.encode("ascii") for line in lines)
    except OSError as error:
        raise JournalError(
            f"{path} cannot be written ({reason(error)}): name another with --out"
        ) from error


def bring_in(journal: Journal, path: Path) -> Imported:
    """Merge the cooks of a file; nothing of it if a line is bad. Doing it twice is once.

    `JournalError` names the line and what was expected.
    """
    cooks = read(path)
    journal.mark_foreign([cook.info.id for cook in cooks])
    new = journal.merge_all((cook.info, cook.recorded) for cook in cooks)
    total = sum(len(cook.recorded) for cook in cooks)
    return Imported(len(cooks), new, total - new)


def read(path: Path) -> list[KeptCook]:
    """The cooks of a file, checked line by line."""
    cooks: list[KeptCook] = []
    for number, line in _lines(path):
        try:
            _take(cooks, line)
        except NewerJournalError as error:
            raise NewerJournalError(f"{path}, line {number}: {error}") from error
        except (ValueError, OverflowError, RecursionError, JournalError) as error:
            raise JournalError(f"{path}, line {number}: {error}") from error
    if not cooks:
        raise JournalError(f"{path} holds no cook: expected lines made by an export")
    for cook in cooks:
        _check_whole(path, cook)
        try:
            check_cook(cook.info.began_s, cook.recorded)
        except JournalError as error:
            raise JournalError(f"{path}: cook {cook.info.id[:8]}, {error}") from error
    return cooks


def _lines(path: Path) -> Iterator[tuple[int, str]]:
    try:
        if not path.is_file():
            raise JournalError(f"{path} is not a file: name a .jsonl file made by an export")
        if path.stat().st_size > LARGEST_BYTES:
            raise JournalError(f"{path} is larger than {LARGEST_BYTES >> 20} MB: not an export")
        with path.open("rb") as file:
            for number, line in enumerate(iter(lambda: file.readline(LONGEST_LINE + 1), b""), 1):
                if len(line) > LONGEST_LINE:
                    raise JournalError(f"{path}, line {number}: longer than any event")
                if line.strip():
                    yield number, line.decode("utf-8", "surrogateescape")
    except OSError as error:
        raise JournalError(f"{path} cannot be read ({reason(error)})") from error


def _take(cooks: list[KeptCook], line: str) -> None:
    fields = json.loads(line)
    if not isinstance(fields, dict):
        raise JournalError("expected a JSON object")
    if "turnspit" in fields:
        if len(cooks) == MOST_COOKS:
            raise JournalError(f"more than {MOST_COOKS} cooks: bring them in by parts")
        cooks.append(_header(fields))
    elif not cooks:
        raise JournalError('expected a header first: {"turnspit": 1, "cook": ...}')
    elif len(cooks[-1].recorded) == MOST_EVENTS:
        raise JournalError(f"more than {MOST_EVENTS} events: no cook has as many")
    else:
        cooks[-1].recorded.append(_event(fields, len(cooks[-1].recorded) + 1))


def _header(fields: dict[str, Any]) -> KeptCook:
    if fields["turnspit"] != FORMAT:
        raise NewerJournalError(
            f"the file has format {str(fields['turnspit'])[:20]!r}, this version knows {FORMAT}: "
            "update Turnspit to bring it in"
        )
    cook, declared = fields.get("cook"), fields.get("events")
    if not isinstance(cook, dict) or not (declared is None or type(declared) is int):
        raise JournalError("expected a cook with its id, name, note and began_s")
    cook_id, name, note = (cook.get(key, "") for key in ("id", "name", "note"))
    if not all(isinstance(text, str) for text in (cook_id, name, note)):
        raise JournalError("expected text for id, name and note")
    if not (cook_id.isascii() and cook_id.replace("-", "").isalnum() and len(cook_id) <= 64):
        raise JournalError("expected an id of letters, digits and dashes")
    name = clean_name(name) if name else ""
    note = clean_note(note)
    return KeptCook(CookInfo(cook_id, name, note, _seconds(cook.get("began_s"))), [], declared)


def _event(fields: dict[str, Any], expected: int) -> Recorded:
    if fields.keys() != {"seq", "at_s", "event", "slots"}:
        raise JournalError("expected seq, at_s, event and slots")
    if type(fields["seq"]) is not int or fields["seq"] != expected:
        raise JournalError(f"expected event {expected}")
    if not isinstance(fields["event"], str):
        raise JournalError("expected the name of an event")
    event = to_event(expected, fields["event"], fields["slots"])
    return Recorded(expected, _seconds(fields["at_s"]), event)


def _seconds(value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not abs(value) < math.inf:
        raise JournalError("expected a time in seconds")
    return float(value)


def _check_whole(path: Path, cook: KeptCook) -> None:
    if cook.declared not in (None, len(cook.recorded)):
        raise JournalError(
            f"{path}: cook {cook.info.id[:8]} has {len(cook.recorded)} events of "
            f"{cook.declared}: the file was cut; export it again"
        )


def _line(fields: dict[str, Any]) -> str:
    return json.dumps(fields, separators=(", ", ": "), allow_nan=False) + "\n"
