"""The board on a real terminal, at real speed, in three sizes.

    python -m tests.terminals

runs `turnspit cook --typed` in tmux with a fresh data folder, types the beginning of an
invented dinner, one line a second, and prints what the terminal shows at 80x24, 120x40 and
200x50, with a half-typed line left standing. Needs tmux.
"""

import os
import subprocess
import sys
import tempfile
import time
from pathlib import Path

SIZES = ((80, 24), (120, 40), (200, 50))
LINES = (
    "fire is lit", "bird one weighs five pounds", "bird two weighs four pounds",
    "bird one gets apricot", "bird two gets harissa", "bird three gets plain",
    "dinner in two hours", "grill is three seventy", "birds on", "what's next",
    "bird one reads thirty eight", "bird one reads sixty",
)  # fmt: skip
HALF = "bird two re"


def tmux(*words: str) -> str:
    """Run tmux on a server of our own; what it printed."""
    done = subprocess.run(
        ["tmux", "-L", f"turnspit-{os.getpid()}", *words],
        capture_output=True, text=True, check=True, timeout=30,
    )  # fmt: skip
    return done.stdout


def capture(columns: int, rows: int, folder: Path) -> str:
    """The screen of a typed cook after the lines above."""
    turnspit = Path(sys.executable).with_name("turnspit")
    command = (
        f"XDG_DATA_HOME={folder}/data XDG_CONFIG_HOME={folder}/config {turnspit} cook --typed"
        " --birds 3"
    )
    tmux("new-session", "-d", "-x", str(columns), "-y", str(rows), command)
    try:
        time.sleep(4)
        for _ in range(5):
            tmux("send-keys", "Enter")  # the questions of the first use, and its cautions
        time.sleep(3)
        for line in LINES:
            tmux("send-keys", line, "Enter")
            time.sleep(1)
        tmux("send-keys", HALF)
        time.sleep(1)
        return tmux("capture-pane", "-p")
    finally:
        tmux("kill-server")


def main() -> int:
    """Print the three captures; 1 where the half-typed line was lost."""
    lost = False
    for columns, rows in SIZES:
        with tempfile.TemporaryDirectory() as folder:
            text = capture(columns, rows, Path(folder))
        print(f"--- {columns} x {rows}\n{text}")
        lost |= not text.rstrip().endswith(HALF)
    return 1 if lost else 0


if __name__ == "__main__":
    sys.exit(main())
