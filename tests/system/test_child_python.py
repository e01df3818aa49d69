"""No child runs code of the current folder, whichever child it is."""

import contextlib
import os
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

from assistant.app.check_parts import check_parts
from assistant.app.check_sound import _open_briefly
from assistant.system.child import Child
from assistant.system.child_python import ROOT, child_command
from assistant.system.watched import Patience, Watched
from assistant.voice.chosen import _system_voices
from assistant.voice.synth import VoiceError, system_voice
from tests.ears.fragile import Fragile

TRAPS = ("numpy", "assistant", "sounddevice", "json", "pickle", "soxr", "pyttsx3")
WAIT_S = 20.0


def the_ears() -> None:
    child = Child(Fragile, (1,))
    assert child.call("count") == 2
    child.close()


def a_watched_sound_child(module: str) -> Callable[[], None]:
    def run() -> None:
        told = threading.Event()
        watched = Watched(module, lambda: ["", "0.1"], lambda *_: told.set(), lambda _: told.set(),
                          Patience(start_s=WAIT_S))  # fmt: skip
        watched.start()
        assert told.wait(WAIT_S)  # it works, or says that there is no device
        watched.close()

    return run


def the_check_of_sound() -> None:
    _open_briefly("assistant.sound.output_child", 1)


def the_check_of_libraries() -> None:
    assert list(check_parts())


def the_system_voice() -> None:
    with contextlib.suppress(VoiceError):  # there may be none; the trap is what counts
        system_voice("birds on")


def the_list_of_voices() -> None:
    _system_voices()


@pytest.fixture
def trap(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The current folder, full of modules that leave a mark when they are run."""
    mark = tmp_path / "sprung"
    code = f"open({str(mark)!r}, 'a').write(__name__ + chr(10))\n"
    folder = tmp_path / "kitchen"
    for name in TRAPS:
        (folder / name).mkdir(parents=True)
        (folder / name / "__init__.py").write_text(code, encoding="utf-8")
    monkeypatch.chdir(folder)
    return mark


@pytest.mark.parametrize("path", ["", ".", "HERE"], ids=["unset", "dot", "here"])
@pytest.mark.parametrize(
    "start",
    [the_ears, a_watched_sound_child("assistant.sound.microphone_child"),
     a_watched_sound_child("assistant.sound.output_child"), the_check_of_sound,
     the_check_of_libraries, the_system_voice, the_list_of_voices],
    ids=["ears", "microphone", "player", "check-sound", "check-libraries", "voice", "voices"],
)  # fmt: skip
def test_a_child_runs_nothing_of_the_current_folder(
    start: Callable[[], None], path: str, trap: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    if path:
        monkeypatch.setenv("PYTHONPATH", path.replace("HERE", str(Path.cwd())))
    start()
    assert not trap.exists(), trap.read_text(encoding="utf-8")


def test_the_trap_would_spring(trap: Path) -> None:
    """A plain `python -m` in that folder runs it: else the test above could not fail."""
    plain = [sys.executable, "-m", "assistant.system.child"]
    subprocess.run(plain, stdin=subprocess.DEVNULL, capture_output=True, check=False)
    assert trap.exists()


def test_what_pythonpath_names_elsewhere_is_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PYTHONPATH", os.pathsep.join((str(tmp_path), "", "lib", ".")))
    _, environment = child_command("assistant.system.wire")
    assert environment["PYTHONPATH"].split(os.pathsep) == [str(ROOT), str(tmp_path)]


def test_every_python_child_is_started_by_the_one_command() -> None:
    """No other module of the program starts this interpreter."""
    found = [
        path.name
        for path in (ROOT / "assistant").rglob("*.py")
        if "[sys.executable" in path.read_text(encoding="utf-8")
    ]
    assert found == ["child_python.py"]
