"""Only standard input is input."""

import os
import subprocess
import sys
from pathlib import Path

PROGRAM = """
import os
from assistant.system.standard_input import standard_input
stream = standard_input()
if stream is None:
    print("closed")
else:
    os.write(2, b"ALSA lib confmisc.c:855:(parse_card) cannot find card '0'\\n")
    os.write(3, b"birds on\\n")
    print(stream.readline().strip())
"""


def _run(stdin: int | None, stderr: int | None, keep: int | None = None) -> str:
    """What the program read, with `keep` as its descriptor 3."""

    def ready() -> None:
        if stdin is None:
            os.close(0)
        if keep is not None:
            os.dup2(keep, 3)

    done = subprocess.run(
        [sys.executable, "-c", PROGRAM], stdin=stdin, stdout=subprocess.PIPE, stderr=stderr,
        text=True, check=True, timeout=30, close_fds=False,
        preexec_fn=ready,
    )  # fmt: skip
    return done.stdout.strip()


def test_what_a_sound_library_prints_is_never_taken_as_typed(tmp_path: Path) -> None:
    """One named pipe is both standard input and standard error."""
    fifo = tmp_path / "words"
    os.mkfifo(fifo)
    both = os.open(fifo, os.O_RDWR)
    try:
        assert _run(both, both, keep=both) == "birds on"
    finally:
        os.close(both)


def test_a_closed_standard_input_is_none() -> None:
    assert _run(None, subprocess.DEVNULL) == "closed"
