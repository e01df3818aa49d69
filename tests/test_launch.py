"""The launcher for Windows, with a stand-in for every process it starts."""

import re
from collections.abc import Sequence
from pathlib import Path

import pytest

import launch

ROOT = Path(__file__).parents[1]


class Machine:
    """A checkout, and what was run on it; a command holding `fails` fails."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.calls: list[str] = []
        self.fails = "never"
        for name in ("requirements.lock", "requirements-dev.lock", "pyproject.toml"):
            (root / name).write_text(f"# {name}\n", encoding="utf-8")

    def run(self, command: Sequence[str]) -> int:
        line = " ".join(command)
        self.calls.append(line)
        if self.fails in line:
            return 1
        if "-m venv" in line:
            python = launch.python_of(Path(command[-1]))
            python.parent.mkdir(parents=True)
            python.touch()
        return 7 if "-m assistant" in line else 0

    def launch(self, *words: str) -> int:
        return launch.launch(list(words), self.root, self.run)

    def counted(self, part: str) -> int:
        return sum(part in line for line in self.calls)


@pytest.fixture
def machine(tmp_path: Path) -> Machine:
    return Machine(tmp_path)


def test_first_use_sets_up_and_hands_every_word_and_the_status_on(machine: Machine) -> None:
    assert machine.launch("hear", "a file.wav") == 7
    assert machine.counted("--require-hashes --use-pep517 -r") == 1
    assert machine.counted("--no-deps --no-build-isolation -e") == 1
    assert machine.calls[-1].endswith("-m assistant hear a file.wav")


def test_later_uses_start_at_once(machine: Machine) -> None:
    machine.launch("demo")
    machine.calls.clear()
    machine.launch("demo")
    assert len(machine.calls) == 1


@pytest.mark.parametrize("changed", ["requirements.lock", "pyproject.toml"])
def test_changed_dependencies_are_installed_on_the_next_use(machine: Machine, changed: str) -> None:
    machine.launch("demo")
    (machine.root / changed).write_text("# new\n", encoding="utf-8")
    machine.launch("demo")
    assert machine.counted("--require-hashes") == 2
    assert machine.counted("-m venv") == 1


def test_a_test_set_up_also_serves_the_program(machine: Machine) -> None:
    assert machine.launch("test", "-x") == 0
    assert machine.calls[-1].endswith("tests -x")
    machine.calls.clear()
    machine.launch("demo")
    assert len(machine.calls) == 1


@pytest.mark.parametrize(
    ("fails", "says"),
    [("-m venv", "could not make"), ("--require-hashes", "goes on from here"),
     ("--no-deps", "itself could not be installed")],
)  # fmt: skip
def test_what_fails_is_one_line_and_is_tried_again(
    machine: Machine, capsys: pytest.CaptureFixture[str], fails: str, says: str
) -> None:
    machine.fails = fails
    assert machine.launch("demo") == 1
    assert says in capsys.readouterr().err.splitlines()[-1]
    machine.fails = "never"
    assert machine.launch("demo") == 7


def test_an_old_python_is_one_line(
    machine: Machine, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(launch, "OLDEST", (9, 9))
    assert machine.launch("demo") == 1
    assert "needs Python 3.11 to 3.14" in capsys.readouterr().err
    assert machine.calls == []


def test_the_command_file_is_what_windows_reads() -> None:
    """CRLF, the folder it lies in, every word, and the status of what it ran."""
    data = (ROOT / "turnspit.cmd").read_bytes()
    assert b"\n" not in data.replace(b"\r\n", b"")
    text = data.decode("ascii")
    assert re.search(r'%python% "%~dp0launch\.py" %\*', text)
    assert text.rstrip().endswith("exit /b %errorlevel%")
