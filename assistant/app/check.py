"""`turnspit check`: what works on this computer, what does not, and the line that mends it.

Every part is tried for real: a sentence is spoken and recognised, a file is synced,
the microphone is listened to for a moment. Native code runs in children, as in a cook.
"""

import contextlib
import json
import os
import shlex
import shutil
import statistics
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import tzlocal

from assistant.app.check_parts import Finding, check_parts
from assistant.app.check_sound import check_microphone, check_recogniser, check_speaker, check_voice
from assistant.app.settings import Settings, SettingsError, load, settings_path
from assistant.journal.errors import JournalError, NewerJournalError
from assistant.journal.reader import JournalReader
from assistant.journal.rescue import findings
from assistant.system import places
from assistant.system.clock import since_boot
from assistant.system.mends import mend_line

CLOCK_SLIP_S = 0.02
EARLIEST_CLOCK = datetime(2026, 1, 1, tzinfo=UTC)  # a clock before this was never set
SPACE_MB = 50
SYNCS = 5


def run_checks(
    now: Callable[[], float], ask: Callable[[str], None] | None = None
) -> Iterator[Finding]:
    """Try every part, one after the other. `now`: epoch seconds by the wall clock;
    `ask` shows the person a line, where there is one who could speak for a moment."""
    yield check_microphone(ask)
    yield check_speaker()
    yield check_recogniser()
    own, found = check_settings()
    yield found
    yield check_voice(own.voice)
    yield from check_parts()
    yield check_clock(now)
    yield check_disk(places.data_folder())
    yield check_journal(places.journal_path())


def check_settings() -> tuple[Settings, Finding]:
    """The cook's own defaults, or the program's where those cannot be used."""
    path = settings_path()
    try:
        own = load(path)
    except SettingsError as error:
        return Settings(), Finding("settings", "broken", str(error), f"edit {path}")
    told = str(path) if path.exists() else f"none yet; they would be {path}"
    return own, Finding("settings", "works", told)


def lines(found: Iterable[Finding]) -> Iterator[str]:
    """For people: a line a part, and its fix below it."""
    for finding in found:
        yield f"{finding.part:<11} {finding.state:<8} {finding.detail}"
        if finding.fix:
            yield f"{'':<12}{'to do:':<9}{finding.fix}"


def json_lines(found: Iterable[Finding]) -> Iterator[str]:
    """For programs: a JSON object a part."""
    for finding in found:
        yield json.dumps(asdict(finding), ensure_ascii=False)


# ---- disk and journal ------------------------------------------------------


def check_disk(folder: Path) -> Finding:
    """Whether the data folder takes a file for good, how fast, and how much room is left."""
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        took_ms = 1000 * statistics.median(_sync_s(folder) for _ in range(SYNCS))
        free_mb = shutil.disk_usage(folder).free // 1_000_000
    except OSError as error:
        return Finding(
            "disk", "broken", f"{folder} cannot be written ({error.strerror})",
            "export XDG_DATA_HOME=/a/folder/you/can/write/to",
        )  # fmt: skip
    if free_mb < SPACE_MB:
        return Finding(
            "disk", "broken", f"{free_mb} MB free in {folder}",
            f"free {SPACE_MB} MB, or: export XDG_DATA_HOME=/a/folder/on/another/disk",
        )  # fmt: skip
    return Finding("disk", "works", f"{folder}: synced in {took_ms:.1f} ms, {free_mb} MB free")


def _sync_s(folder: Path) -> float:
    """Seconds until a small file is on disk."""
    with tempfile.TemporaryFile(dir=folder) as file:
        began_s = time.monotonic()
        file.write(b"turnspit" * 512)
        file.flush()
        os.fsync(file.fileno())
        return time.monotonic() - began_s


def check_journal(path: Path) -> Finding:
    """Whether every event of every cook is what was written."""
    if not path.exists():
        return Finding("journal", "works", f"none yet; it will be {path}")
    if not path.is_file():
        aside = shlex.join(["mv", str(path), f"{path}.aside"])
        return Finding("journal", "broken", f"{path} is not a file", aside)
    faults = findings(path)
    try:
        with JournalReader(path) as journal:
            cooks = journal.cooks()
    except NewerJournalError as error:
        return Finding("journal", "broken", str(error), "git pull   # in the folder of turnspit")
    except JournalError:
        cooks = ()
    if faults:
        more = f" (and {len(faults) - 1} more)" if len(faults) > 1 else ""
        return Finding(
            "journal", "broken", f"{faults[0]}{more}",
            "turnspit cooks mend   # keeps the damaged, carries over what can still be read",
        )  # fmt: skip
    events = sum(cook.events for cook in cooks)
    counted = "1 cook" if len(cooks) == 1 else f"{len(cooks)} cooks"
    return Finding("journal", "works", f"{path}: {counted}, {events} events, all whole")


# ---- clock -----------------------------------------------------------------


def check_clock(now: Callable[[], float]) -> Finding:
    """Whether the clock was set, runs evenly, and knows where it is."""
    boot, wall = since_boot(), now()
    time.sleep(0.2)
    slipped_s = (now() - wall) - (since_boot() - boot)
    zone, is_known = local_zone()
    here = datetime.fromtimestamp(wall, ZoneInfo(zone))
    told = f"{here:%Y-%m-%d %H:%M} {zone}"
    if here < EARLIEST_CLOCK:
        return Finding("clock", "broken", f"{told}: it was never set", mend_line("clock"))
    if abs(slipped_s) > CLOCK_SLIP_S:
        return Finding(
            "clock", "broken", f"{told}: it slipped {slipped_s:+.2f} s in a fifth of a second",
            "wait until the clock has been set, then run this again",
        )  # fmt: skip
    if not is_known:
        return Finding(
            "clock", "missing", f"{told}: no time zone is set; times are told in UTC",
            mend_line("zone"),
        )  # fmt: skip
    return Finding("clock", "works", f"{told}, even with the time since the computer started")


def local_zone() -> tuple[str, bool]:
    """The IANA name of the time zone, and whether somebody set it."""
    with contextlib.suppress(LookupError, ValueError, OSError):
        name = tzlocal.get_localzone_name()
        if name:
            ZoneInfo(name)
            return name, True
    return "UTC", False
