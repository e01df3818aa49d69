"""Nothing leaves the machine, and nothing on it is open to others."""

import os
import re
import shutil
import stat
import subprocess
import sys
from pathlib import Path

import pytest

from tests.reliability.kills import ROOT

# Run before the program: every use of a socket from Python is refused.
REFUSE = """
import sys
def refuse(event, _):
    if event.startswith("socket."):
        raise SystemExit(f"a socket was used: {event}")
sys.addaudithook(refuse)
from assistant.cli.main import main
main(sys.argv[1:], prog_name="turnspit")
"""
DINNER = str(ROOT / "demo_sessions" / "family_dinner.txt")


def private(tmp_path: Path) -> dict[str, str]:
    homes = ("HOME", "XDG_DATA_HOME", "XDG_CONFIG_HOME", "XDG_CACHE_HOME", "XDG_STATE_HOME")
    return os.environ | {name: str(tmp_path / name.lower()) for name in homes}


def run(tmp_path: Path, *words: str, given: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-c", REFUSE, *words],
        cwd=ROOT, env=private(tmp_path), input=given, text=True, capture_output=True, check=False,
        timeout=100, umask=0o022,
    )  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("words", [("rehearse", DINNER), ("cook", "--typed", "--json")])
def test_no_command_uses_a_socket(tmp_path: Path, words: tuple[str, ...]) -> None:
    done = run(tmp_path, *words, given="fire is lit\nadded 12 briquettes\nend cook\n")
    assert done.returncode == 0, done.stderr


def test_a_socket_would_be_refused(tmp_path: Path) -> None:
    code = REFUSE.split("from assistant", maxsplit=1)[0] + "import socket; socket.socket()"
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert "a socket was used" in done.stderr


@pytest.mark.slow
def test_what_a_cook_leaves_is_for_its_owner_only_and_holds_no_sound(tmp_path: Path) -> None:
    assert run(tmp_path, "cook", "--typed", "--json", given="fire is lit\n").returncode == 0
    left = [path for path in tmp_path.rglob("*") if path.is_file()]
    assert any(path.name == "journal.sqlite3" for path in left)
    for path in left:
        assert stat.S_IMODE(path.stat().st_mode) & 0o077 == 0, path
        assert path.suffix not in {".wav", ".flac", ".raw", ".ogg"}, path


@pytest.mark.slow
@pytest.mark.timeout(900)
def test_a_whole_demo_opens_no_network_socket(tmp_path: Path) -> None:
    """Every system call of the demo and of its children that could reach out."""
    if shutil.which("strace") is None:
        pytest.skip("strace is not installed")
    trace = tmp_path / "trace"
    tracer = ["strace", "-f", "--seccomp-bpf", "-qq", "-e", "trace=socket,connect,sendto,bind"]
    if subprocess.run([*tracer, "true"], capture_output=True, check=False).returncode:
        pytest.skip("tracing is not permitted here")
    done = subprocess.run(
        [*tracer, "-o", str(trace), sys.executable, "-m", "assistant", "demo"],
        cwd=ROOT, env=private(tmp_path), text=True, capture_output=True, check=False, timeout=800,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-2000:]
    families = set(re.findall(r"socket\((\w+)", trace.read_text(errors="replace")))
    assert families <= {"AF_UNIX"}, families
    assert not re.search(r"connect\(\d+, \{sa_family=AF_INET", trace.read_text(errors="replace"))
