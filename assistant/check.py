"""`turnspit check`: what works on this computer, what does not, and the line that mends it.

Every part is tried for real: a sentence is spoken and recognised, a file is synced,
the microphone is listened to for a moment. Native code runs in children, as in a cook.
"""

import contextlib
import json
import os
import shutil
import statistics
import subprocess
import tempfile
import threading
import time
from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import BinaryIO, Literal, cast
from zoneinfo import ZoneInfo

import numpy as np
import tzlocal

from assistant import places, wire
from assistant.ears.microphone_child import STAMP
from assistant.journal.errors import JournalError, NewerJournalError
from assistant.journal.reader import JournalReader
from assistant.journal.rescue import findings
from assistant.voice.synth import VoiceError, find_synth
from assistant.watched import child_command

State = Literal["works", "missing", "broken"]
"""missing: a cook goes on without it, with less. broken: no cook can be trusted to it."""

DEVICE_PATIENCE_S = 6.0
LISTEN_BLOCKS = 25
MUTED_PEAK = 2  # of 32767: a muted input delivers exact zeros, or one bit of dither
CLIPPED_PEAK = 32_700
CLOCK_SLIP_S = 0.02
EARLIEST_CLOCK = datetime(2026, 1, 1, tzinfo=UTC)  # a clock before this was never set
SPACE_MB = 50
SYNCS = 5


@dataclass(frozen=True, slots=True)
class Finding:
    """What one part does. `fix`: the one line that mends it, None where it works."""

    part: str
    state: State
    detail: str
    fix: str | None = None


def run_checks(now: Callable[[], float]) -> Iterator[Finding]:
    """Try every part, one after the other. `now`: epoch seconds by the wall clock."""
    yield check_microphone()
    yield check_speaker()
    yield check_voice()
    yield check_clock(now)
    yield check_disk(places.data_folder())
    yield check_journal(places.journal_path())


def lines(found: Iterable[Finding]) -> Iterator[str]:
    """For people: a line a part, and its fix below it."""
    for finding in found:
        yield f"{finding.part:<12}{finding.state:<9}{finding.detail}"
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
            "turnspit cook   # puts the damaged file aside, carries over what can still be read",
        )  # fmt: skip
    events = sum(cook.events for cook in cooks)
    return Finding("journal", "works", f"{path}: {len(cooks)} cooks, {events} events, all whole")


# ---- clock -----------------------------------------------------------------


def check_clock(now: Callable[[], float]) -> Finding:
    """Whether the clock was set, runs evenly, and knows where it is."""
    boot, wall = _boot_s(), now()
    time.sleep(0.2)
    slipped_s = (now() - wall) - (_boot_s() - boot)
    zone, is_known = local_zone()
    here = datetime.fromtimestamp(wall, ZoneInfo(zone))
    told = f"{here:%Y-%m-%d %H:%M} {zone}"
    if here < EARLIEST_CLOCK:
        return Finding(
            "clock", "broken", f"{told}: it was never set", "sudo timedatectl set-ntp true"
        )
    if abs(slipped_s) > CLOCK_SLIP_S:
        return Finding(
            "clock", "broken", f"{told}: it slipped {slipped_s:+.2f} s in a fifth of a second",
            "wait until the clock has been set, then run this again",
        )  # fmt: skip
    if not is_known:
        return Finding(
            "clock", "missing", f"{told}: no time zone is set; times are told in UTC",
            "sudo timedatectl set-timezone Europe/Lisbon   # or the place you are in",
        )  # fmt: skip
    return Finding("clock", "works", f"{told}, even with the time since the computer started")


def _boot_s() -> float:
    """Seconds since the computer started, sleep included where the system can tell."""
    return time.clock_gettime(getattr(time, "CLOCK_BOOTTIME", time.CLOCK_MONOTONIC))


def local_zone() -> tuple[str, bool]:
    """The IANA name of the time zone, and whether somebody set it."""
    with contextlib.suppress(LookupError, ValueError, OSError):
        name = tzlocal.get_localzone_name()
        if name:
            ZoneInfo(name)
            return name, True
    return "UTC", False


# ---- voice, speaker, microphone --------------------------------------------


def check_voice() -> Finding:
    """Whether words can be made into sound."""
    try:
        engine = find_synth()
        sound = engine("bird two reads one thirty", 165)
    except VoiceError as error:
        return Finding(
            "voice", "missing", f"words are only printed: {error}",
            "sudo apt-get install -y espeak-ng",
        )  # fmt: skip
    return Finding("voice", "works", f"{engine.__name__}: a reading takes {sound.duration_s:.1f} s")


@dataclass(frozen=True, slots=True)
class _Opened:
    """What a sound child said: its greeting, its blocks, or why it could not."""

    greeting: dict[str, object] | None
    blocks: tuple[bytes, ...]
    error: str


def _open_briefly(module: str, blocks: int) -> _Opened:
    """Start a sound child, take some blocks, and end it; never longer than the patience."""
    command, environment = child_command(module, ["", "0.1"])
    child = subprocess.Popen(
        command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL,
        env=environment, start_new_session=True,
    )  # fmt: skip
    guard = threading.Timer(DEVICE_PATIENCE_S, child.kill)
    guard.start()
    greeting, taken, error = None, [], "the device opened but delivers nothing"
    try:
        while (message := wire.receive(cast(BinaryIO, child.stdout))) is not None:
            kind, payload = message
            if kind == wire.ERROR:
                error = payload.decode(errors="replace")
            elif kind == wire.HELLO:
                greeting = json.loads(payload)
            elif kind in {wire.BLOCK, wire.PULSE}:
                taken.append(payload)
                if len(taken) >= blocks:
                    break
    finally:
        guard.cancel()
        child.kill()
        child.communicate()
    return _Opened(greeting, tuple(taken), error)


def check_speaker() -> Finding:
    """Whether a speaker opens and takes sound."""
    opened = _open_briefly("assistant.voice.output_child", 1)
    if opened.greeting is None or not opened.blocks:
        return _no_device("speaker", "what is said is printed", opened.error)
    return Finding("speaker", "works", _device(opened.greeting))


def check_microphone() -> Finding:
    """Whether a microphone opens, delivers, and is neither muted nor too loud."""
    opened = _open_briefly("assistant.ears.microphone_child", LISTEN_BLOCKS)
    if opened.greeting is None or not opened.blocks:
        return _no_device("microphone", "type instead: turnspit cook --typed", opened.error)
    sound = b"".join(block[STAMP.size :] for block in opened.blocks)
    peak = int(np.abs(np.frombuffer(sound, np.int16).astype(np.int32)).max(initial=0))
    device = _device(opened.greeting)
    if peak <= MUTED_PEAK:
        return Finding(
            "microphone",
            "missing",
            f"{device}: only silence comes; it may be muted",
            "alsamixer -V capture",
        )
    if peak >= CLIPPED_PEAK:
        return Finding(
            "microphone", "missing", f"{device}: it clips; turn it down", "alsamixer -V capture"
        )
    level_db = 20 * np.log10(peak / 32_768)
    return Finding("microphone", "works", f"{device}, peak {level_db:.0f} dB of full scale")


def _no_device(part: str, instead: str, error: str) -> Finding:
    """PortAudio's absence has its own line; the others say what to do themselves."""
    what, _, todo = error.partition(": ")
    fix = "sudo apt-get install -y libportaudio2" if "PortAudio" in what else todo or "plug one in"
    return Finding(part, "missing", f"{what}; {instead}", fix)


def _device(greeting: dict[str, object]) -> str:
    return f"{greeting['device']}, {greeting['rate_hz']} Hz, {greeting['channels']} channel(s)"
