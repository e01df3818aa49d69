"""A cook on a small board: `turnspit cook --small` on one core, with 1 GB where that can be set.

`python -m tests.benchmarks.small_machine` speaks some commands into a recording, lets a cook
hear it in real time, and prints how many came out as they were meant and what all its processes
held together (proportional set size, looked at every half second).
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import threading
from pathlib import Path

import numpy as np
import psutil

from assistant.sound.files import write_sound
from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus import say, voices

LINES = (
    ("birds on", "birds_on"), ("grill is three seventy", "grill_reading"),
    ("bird one reads one eighteen", "bird_reading"), ("added six briquettes", "fuel_added"),
    ("how long", "ask_when"), ("what's next", "ask_next"),
)  # fmt: skip
MEMORY_BYTES = 1 << 30
FIRST_S, BETWEEN_S = 20.0, 9.0  # models are loaded meanwhile; the answer is said meanwhile
PATIENCE_S = 240.0


def recording(path: Path, voice: str) -> None:
    """The commands after the address word, with time for an answer after each."""
    parts = [np.zeros(int(FIRST_S * RATE_HZ), np.int16)]
    for words, _ in LINES:
        parts += [say(f"turnspit {words}", voice), np.zeros(int(BETWEEN_S * RATE_HZ), np.int16)]
    write_sound(path, np.concatenate(parts))


def limited() -> str:
    """Put this process and its children on one core and into 1 GB; how far that went."""
    os.sched_setaffinity(0, {min(os.sched_getaffinity(0))})
    for group, name in (
        (Path("/sys/fs/cgroup/memory/turnspit_small"), "memory.limit_in_bytes"),
        (Path("/sys/fs/cgroup/turnspit_small"), "memory.max"),
    ):
        try:
            group.mkdir(exist_ok=True)
            (group / name).write_text(str(MEMORY_BYTES), encoding="ascii")
            (group / "cgroup.procs").write_text(str(os.getpid()), encoding="ascii")
        except OSError:
            continue
        return "one core, 1 GB"
    return "one core, memory not limited (no cgroup may be written here)"


def held_bytes(process: psutil.Process, ended: threading.Event) -> list[int]:
    """What the process and its children held together, every half second until it ended."""
    found = []
    while not ended.wait(0.5):
        held = 0
        for one in [process, *process.children(recursive=True)]:
            try:
                held += one.memory_full_info().pss
            except (psutil.NoSuchProcess, psutil.AccessDenied):
                continue
        found.append(held)
    return found


def main() -> None:
    """Print what a small board would hear and hold."""
    voice = voices(("slt", "en-us"))[0]
    room = limited()
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "spoken.wav"
        recording(path, voice)
        environment = os.environ | {"XDG_DATA_HOME": folder, "XDG_CONFIG_HOME": folder}
        cook = subprocess.Popen(
            [sys.executable, "-m", "assistant", "cook", "--small", "--json", "--birds", "2",
             "--recording", str(path)],
            stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, text=True, env=environment,
        )  # fmt: skip
        ended, held = threading.Event(), [0]
        watch = threading.Thread(
            target=lambda: held.extend(held_bytes(psutil.Process(cook.pid), ended))
        )
        watch.start()
        try:
            out, _ = cook.communicate(timeout=PATIENCE_S)
        finally:
            cook.kill()
            ended.set()
            watch.join()
    heard = [json.loads(line) for line in out.splitlines() if line.startswith("{")]
    commands = [one.get("command") for one in heard if one.get("kind") == "heard"]
    right = sum(wanted in commands for _, wanted in LINES)
    print(f"{room}; voice {voice}")
    print(f"heard as meant: {right} of {len(LINES)}")
    print(
        f"held by all processes: {statistics.median(held) / 1e6:.0f} MB at the median,"
        f" {max(held) / 1e6:.0f} MB at most (proportional set size)"
    )


if __name__ == "__main__":
    main()
