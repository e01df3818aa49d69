"""Looking back on a past cook: one page, or tables, or a picture, by the file's ending."""

from collections.abc import Sequence
from pathlib import Path

from assistant.cook.state import Cook
from assistant.cook.vocabulary.events import Recorded
from assistant.lookback.facts import evening
from assistant.lookback.page import page
from assistant.lookback.picture import whole_picture
from assistant.lookback.tables import csv_text, jsonl_text
from assistant.system.files import write_whole

ENDINGS = (".html", ".csv", ".jsonl", ".png", ".svg")


class LookbackError(ValueError):
    """It cannot be written as asked; the text says what to do."""


def lookback(
    recorded: Sequence[Recorded],
    out: Path,
    *,
    title: str = "A cook",
    note: str = "",
    start: Cook | None = None,
) -> None:
    """Write the look-back on one cook's events to `out`.

    The ending of `out` picks what is written: `.html` the page with everything,
    `.csv` and `.jsonl` the rows, `.png` and `.svg` one picture of it. `start` is
    the state before the first event, with the kitchen as it was known that evening.
    Raises `LookbackError` for another ending, no events, or a file that cannot be
    written; then nothing is left behind.
    """
    ending = out.suffix.lower()
    if ending not in ENDINGS:
        raise LookbackError(f"{out}: end the name with one of {', '.join(ENDINGS)}")
    if not recorded:
        raise LookbackError("this cook has no events to look back on")
    seen = evening(recorded, title, note, start)
    if ending in {".png", ".svg"}:
        data = whole_picture(seen, ending[1:])
    else:
        write = {".html": page, ".csv": csv_text, ".jsonl": jsonl_text}[ending]
        data = write(seen).encode("utf-8", "replace")
    replace_bytes(out, data)


def replace_bytes(path: Path, data: bytes) -> None:
    """Put `data` at `path`, whole or not at all; `LookbackError`."""
    try:
        write_whole(path, data)
    except OSError as error:
        raise LookbackError(
            f"{path} cannot be written ({error.strerror or error}): name another with --out"
        ) from error
