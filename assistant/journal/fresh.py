"""The fresh files beside a journal: where a live cook is written when the journal cannot be,
and how they come together again at the next start.
"""

import contextlib
import tempfile
from collections.abc import Iterable, Sequence
from pathlib import Path

from assistant.cook.vocabulary.events import Recorded
from assistant.journal import rescue
from assistant.journal.errors import HeldError, JournalError, WriteError
from assistant.journal.jsonl import keep
from assistant.journal.reader import CookInfo
from assistant.journal.store import HOLDER, Journal


def readable(path: Path, at_s: float, vfs: str) -> Journal:
    """The journal at `path`, of which at least the list of cooks can be read.

    Raises JournalError.
    """
    journal = Journal(path, at_s=at_s, vfs=vfs)
    try:
        journal.cooks()
    except BaseException:
        journal.close()
        raise
    return journal


def free_path(path: Path) -> Path:
    """Where the next fresh file of the journal at `path` goes."""
    taken = {one.name for one in _files(path)}
    number = 1
    while (name := f"{path.stem}-fresh-{number}{path.suffix}") in taken:
        number += 1
    return path.with_name(name)


def merge(path: Path, main: Journal, at_s: float, vfs: str) -> tuple[Journal, list[str]]:
    """Bring the fresh files of earlier evenings into `main`, the journal at `path`.

    The journal to go on in: `main`, or where it still cannot be written the latest fresh file;
    and a line for each file that could not be merged and is left there. Raises HeldError.
    """
    left: list[str] = []
    for file in _files(path):
        try:
            with Journal(file, at_s=at_s, vfs=vfs) as one:
                _merge_one(one, main)
        except HeldError:
            raise
        except WriteError:
            return _latest(path, at_s, vfs) or main, left
        except JournalError as error:
            left.append(f"{file} could not be merged and is left there: {error}")
        else:
            with contextlib.suppress(OSError):  # merged twice is merged once
                rescue.remove(file)
    return main, left


def put_by(cooks: Iterable[tuple[CookInfo, Sequence[Recorded]]]) -> str:
    """Keep what cannot be written beside the journal as JSON lines among the system's
    temporary files; the line to print."""
    try:
        path = Path(tempfile.mkdtemp(prefix="turnspit-")) / "cook.jsonl"
        keep(cooks, path)
    except (JournalError, OSError) as error:
        return f"the end of this cook is lost, for it can be written nowhere: {error}"
    return (
        f"the journal cannot be written: all of this cook is in {path}. Copy that before the"
        f" computer is switched off; once the disk is mended: turnspit cooks import {path.name}"
    )


def _files(path: Path) -> list[Path]:
    pattern = f"{path.stem}-fresh-*{path.suffix}"
    return sorted(path.parent.glob(pattern), key=lambda one: (len(one.name), one.name))


def _latest(path: Path, at_s: float, vfs: str) -> Journal | None:
    """The latest fresh file that has a cook: it holds the whole of it."""
    for file in reversed(_files(path)):
        try:
            latest = readable(file, at_s, vfs)
        except HeldError:
            raise
        except JournalError:  # begun on a full disk and never filled
            continue
        if latest.cooks():
            return latest
        latest.close()
    return None


def _merge_one(one: Journal, main: Journal) -> None:
    for cook in one.cooks():
        main.merge(cook, one.events(cook.id))
    for key, value in one.settings().items():
        if key != HOLDER:
            main.set_setting(key, value)
