"""Nothing POSIX-only at import, and what is used has a portable form or a guard."""

import ast
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest
import soundfile

from tests.system.elsewhere import MODULES, NAMES, environment

PROGRAM = Path(__file__).parents[2] / "assistant"
SOURCES = sorted(PROGRAM.rglob("*.py"))


def unguarded(tree: ast.AST, guarded: frozenset[str] = frozenset()) -> Iterator[str]:
    """POSIX-only names and modules that a source uses where nothing asks for them first: a
    function that calls hasattr or getattr on the module has asked."""
    for node in ast.iter_child_nodes(tree):
        known = guarded
        if isinstance(node, ast.FunctionDef):
            known = guarded | {
                call.args[0].id
                for call in ast.walk(node)
                if isinstance(call, ast.Call)
                and isinstance(call.func, ast.Name)
                and call.func.id in {"hasattr", "getattr"}
                and isinstance(call.args[0], ast.Name)
            }
        if isinstance(node, ast.Import):
            yield from (one.name for one in node.names if one.name.split(".")[0] in MODULES)
        elif isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] in MODULES:
            yield node.module or ""
        elif isinstance(node, ast.ImportFrom) and node.module in NAMES:
            yield from (one.name for one in node.names if one.name in NAMES[node.module or ""])
        elif isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name):
            module = node.value.id
            if node.attr in NAMES.get(module, ()) and module not in known:
                yield f"{module}.{node.attr}"
        yield from unguarded(node, known)


@pytest.mark.parametrize("path", SOURCES, ids=lambda path: str(path.relative_to(PROGRAM)))
def test_nothing_posix_only_is_used_unasked(path: Path) -> None:
    assert list(unguarded(ast.parse(path.read_text(encoding="utf-8")))) == []


def test_the_search_finds_what_it_looks_for() -> None:
    bad = "import fcntl\nimport os, signal\nos.getuid()\ndef f():\n    signal.SIGKILL\n"
    good = "import signal\ndef f():\n    return signal.SIGHUP if hasattr(signal, 'SIGHUP') else 0\n"
    assert list(unguarded(ast.parse(bad))) == ["fcntl", "os.getuid", "signal.SIGKILL"]
    assert list(unguarded(ast.parse(good))) == []


def elsewhere(tmp_path: Path, *words: str, typed: str = "") -> subprocess.CompletedProcess[str]:
    home = {"XDG_DATA_HOME": str(tmp_path / "d"), "XDG_CONFIG_HOME": str(tmp_path / "c")}
    return subprocess.run(
        [sys.executable, "-m", "assistant", *words], input=typed, text=True,
        capture_output=True, timeout=110, check=False, env={**environment(tmp_path), **home},
    )  # fmt: skip


def test_the_shim_takes_the_names_away(tmp_path: Path) -> None:
    """In the process and in its children: else the next test would prove nothing."""
    code = "import assistant.system.clock as c; print(hasattr(c.time, 'clock_gettime'))"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True,
        env=environment(tmp_path),
    )  # fmt: skip
    assert done.stdout.strip() == "False"


def test_a_cook_a_plan_a_hearing_and_a_check_run_without_them(tmp_path: Path) -> None:
    typed = "bird one weighs 4 lb\nbirds on\nbird one reads 41\nset a timer for 5 min\n"
    cook = elsewhere(tmp_path, "cook", "--typed", "--plain", typed=typed)
    assert (cook.returncode, "41" in cook.stdout) == (0, True), cook.stderr
    again = elsewhere(tmp_path, "cook", "--typed", "--plain", typed="last reading bird one\n")
    assert (again.returncode, "41" in again.stdout) == (0, True), again.stderr
    plan = elsewhere(tmp_path, "plan", "--serve", "23:59", "--bird", "4 lb", "--keep")
    assert plan.returncode == 0, plan.stderr
    soundfile.write(tmp_path / "line.wav", np.zeros(8000, np.int16), 16000)
    hear = elsewhere(tmp_path, "hear", str(tmp_path / "line.wav"))
    assert hear.returncode == 0, hear.stderr
    check = elsewhere(tmp_path, "check")
    told = check.stdout + check.stderr
    assert "Traceback" not in told
    assert "clock       works" in check.stdout
