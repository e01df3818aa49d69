"""Nothing leaves the machine, and nothing on it is open to others."""

import os
import re
import shutil
import stat
import subprocess
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest

from tests.reliability.kills import ROOT

WATCHING = Path(__file__).with_name("watching")  # see the file in it
DINNER = str(ROOT / "demo_sessions" / "family_dinner.txt")
PROGRAM = (sys.executable, "-m", "assistant")
TYPED = "fire is lit\nadded 12 briquettes\nbirds on\nbird one reads 118\nend cook\nyes\n"

# A leak in a thread of a child of the program that is watched.
LEAK = """
import socket, subprocess, sys, threading
if sys.argv[1:] == ["child"]:
    def leak():
        socket.socket(socket.AF_INET, socket.SOCK_DGRAM).close()
    thread = threading.Thread(target=leak)
    thread.start()
    thread.join()
else:
    subprocess.run([sys.executable, "-P", __file__, "child"], check=True)
"""


@dataclass(frozen=True, slots=True)
class Watched:
    """A run, and what was seen of it: the processes that Python ran in, the uses of sockets."""

    done: subprocess.CompletedProcess[str]
    processes: frozenset[str]
    sockets: tuple[str, ...]


def private(tmp_path: Path) -> dict[str, str]:
    homes = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME")
    return os.environ | {name: str(tmp_path / name.lower()) for name in homes}


def watched(tmp_path: Path, words: Sequence[str], given: str = "") -> Watched:
    """Run a command with every Python in it watched."""
    trace = tmp_path / "trace"
    path = os.pathsep.join(filter(None, (str(WATCHING), os.environ.get("PYTHONPATH"))))
    done = subprocess.run(
        words, cwd=ROOT, input=given, text=True, capture_output=True, check=False, timeout=200,
        env=private(tmp_path) | {"PYTHONPATH": path, "TURNSPIT_WATCH_TRACE": str(trace)},
        umask=0o022,
    )  # fmt: skip
    lines = [line.split() for line in trace.read_text(encoding="ascii").splitlines()]
    trace.unlink()
    return Watched(
        done,
        frozenset(process for process, what in lines if what == "started"),
        tuple(what for _, what in lines if what != "started"),
    )


@pytest.mark.slow
@pytest.mark.parametrize(
    ("words", "processes"),
    [
        (("rehearse", DINNER), 1),
        (("cook", "--typed", "--json"), 1),
        (("cook", "--plain"), 2),  # by voice: with what listens, and what opens the devices
        (("check",), 2),
    ],
    ids=["rehearse", "cook typed", "cook by voice", "check"],
)
def test_no_command_uses_a_socket(tmp_path: Path, words: tuple[str, ...], processes: int) -> None:
    """Not in a thread, not in a child."""
    seen = watched(tmp_path, (*PROGRAM, *words), TYPED)
    assert seen.done.returncode in ((0, 1) if words == ("check",) else (0,)), seen.done.stderr
    assert len(seen.processes) >= processes, "not all of it was watched"
    assert not seen.sockets


def test_a_socket_in_a_thread_of_a_child_is_seen(tmp_path: Path) -> None:
    script = tmp_path / "leak.py"
    script.write_text(LEAK, encoding="ascii")
    seen = watched(tmp_path, (sys.executable, str(script)))
    assert seen.done.returncode == 0, seen.done.stderr
    assert len(seen.processes) == 2
    assert "socket.__new__" in seen.sockets


@pytest.mark.slow
def test_what_a_cook_leaves_is_for_its_owner_only_and_holds_no_sound(tmp_path: Path) -> None:
    seen = watched(tmp_path, (*PROGRAM, "cook", "--typed", "--json"), "fire is lit\n")
    assert seen.done.returncode == 0
    left = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert any(path.name == "journal.sqlite3" for path in left)
    for path in left:
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path
        assert path.suffix not in {".wav", ".flac", ".raw", ".ogg"}, path


# ---- by the system's own account: native libraries use sockets without asking Python ----


def traced(tmp_path: Path, words: Sequence[str]) -> str:
    """Every call of a command and of its children that starts a program or could reach out."""
    if shutil.which("strace") is None:
        pytest.skip("strace is not installed")
    trace = tmp_path / "trace"
    calls = "trace=execve,socket,connect,sendto,sendmsg,bind"
    tracer = ["strace", "-f", "--seccomp-bpf", "-qq", "-e", calls]
    if subprocess.run([*tracer, "true"], capture_output=True, check=False).returncode:
        pytest.skip("tracing is not permitted here")
    done = subprocess.run(
        [*tracer, "-o", str(trace), *words],
        cwd=ROOT, env=private(tmp_path), text=True, capture_output=True, check=False, timeout=800,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    return trace.read_text(errors="replace")


def started(trace: str) -> int:
    """How many programs a trace saw start."""
    return len(re.findall(r"execve\(.* = 0$", trace, re.MULTILINE))


def families(trace: str) -> set[str]:
    """The families of the sockets in a trace."""
    return set(re.findall(r"(?:socket\(|sa_family=)(\w+)", trace))


def test_the_trace_sees_a_socket_in_a_thread_of_a_child(tmp_path: Path) -> None:
    script = tmp_path / "leak.py"
    script.write_text(LEAK, encoding="ascii")
    trace = traced(tmp_path, (sys.executable, str(script)))
    assert started(trace) == 2
    assert "AF_INET" in families(trace)


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_a_whole_demo_opens_no_network_socket(tmp_path: Path) -> None:
    trace = traced(tmp_path, (*PROGRAM, "demo"))
    assert started(trace) >= 2, "the trace holds no child of the demo"
    assert families(trace) <= {"AF_UNIX"}
