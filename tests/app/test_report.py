"""`turnspit check --report`: enough to help, nothing personal."""

import getpass
import socket
from pathlib import Path

import pytest

from assistant.app.check_parts import Finding
from assistant.app.report import report_lines, scrubbed
from assistant.system.mends import mend_line


def test_the_report_has_the_computer_the_packages_and_the_findings() -> None:
    text = "\n".join(report_lines([Finding("disk", "works", f"{Path.home()}/x: synced")]))
    for words in ("system ", "python ", "processors ", "numpy ", "soxr ", "disk       works: ~/x"):
        assert words in text
    assert str(Path.home()) not in text


def test_names_of_people_places_and_computers_are_left_out(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(getpass, "getuser", lambda: "annamaria")
    monkeypatch.setattr(socket, "gethostname", lambda: "annas-laptop")
    monkeypatch.setattr("tzlocal.get_localzone_name", lambda: "Europe/Lisbon")
    told = scrubbed("Anna's headset on annas-laptop, /media/annamaria, 18:00 Europe/Lisbon")
    assert told == "(someone)'s headset on (computer), /media/(user), 18:00 (time zone)"


@pytest.mark.parametrize("what", ["voice", "portaudio", "zone", "clock"])
def test_every_system_has_its_own_line(what: str) -> None:
    lines = {mend_line(what, platform) for platform in ("linux", "darwin", "win32")}  # type: ignore[arg-type]
    assert len(lines) >= 2
    assert not any("apt" in mend_line(what, platform) for platform in ("darwin", "win32"))  # type: ignore[arg-type]
