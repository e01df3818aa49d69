"""A watched child: data is its only sign of life."""

import sys
import threading
from pathlib import Path

import pytest

from assistant.system import process, watched, wire
from assistant.system.child_python import child_command
from assistant.system.watched import Link, Patience, Watched

WAIT_S = 20.0

CHILD = """
import sys, time, os
from assistant.system import wire
out, mode, count = sys.stdout.buffer, sys.argv[1], sys.argv[2]
first = not os.path.exists(count)
open(count, "a").write("x")
if mode == "refuse" and first:
    wire.send(out, wire.ERROR, b"no microphone found: plug one in")
    sys.exit(1)
wire.send(out, wire.HELLO, b"{}")
if mode == "mute" and first:
    time.sleep(60)
wire.send(out, wire.AUDIO, b"one")
if mode == "stall" and first:
    time.sleep(60)
if mode == "die" and first:
    os.abort()
if mode == "echo":
    while (message := wire.receive(sys.stdin.buffer)) is not None:
        wire.send(out, *message)
    sys.exit(0)
while True:
    wire.send(out, wire.AUDIO, b"more")
    time.sleep(0.02)
"""


@pytest.fixture
def module(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> str:
    (tmp_path / "fake_child.py").write_text(CHILD)
    monkeypatch.setenv("PYTHONPATH", str(tmp_path))
    return "fake_child"


class Story:
    """What the watcher told, and a way to wait for it."""

    def __init__(self) -> None:
        self.links: list[Link] = []
        self.data: list[bytes] = []
        self.changed = threading.Condition()

    def link(self, link: Link) -> None:
        with self.changed:
            self.links.append(link)
            self.changed.notify_all()

    def message(self, kind: bytes, payload: bytes) -> None:
        with self.changed:
            self.data.append(payload)
            self.changed.notify_all()

    def wait(self, ups: int) -> None:
        with self.changed:
            came = self.changed.wait_for(
                lambda: sum(link.up for link in self.links) >= ups, timeout=WAIT_S
            )
        assert came, self.links


@pytest.mark.parametrize(
    ("mode", "why"),
    [
        ("stall", "no sound data for a while"),
        ("die", "the sound process ended"),
        ("mute", "the sound device does not open"),
        ("refuse", "no microphone found: plug one in"),
    ],
)
def test_whatever_stops_the_data_is_told_once_and_mended(
    module: str, mode: str, why: str, tmp_path: Path
) -> None:
    story = Story()
    child = Watched(
        module, lambda: [mode, str(tmp_path / "count")], story.message, story.link,
        Patience(start_s=3.0, stall_s=0.6),
    )  # fmt: skip
    child.start()
    try:
        story.wait(ups=2 if mode in ("stall", "die") else 1)
    finally:
        child.close()
    downs = [link.detail for link in story.links if not link.up]
    assert downs == [why]
    assert story.links[-1].up
    assert child.restarts == 1


def test_messages_go_both_ways_and_none_goes_to_a_closed_child(module: str, tmp_path: Path) -> None:
    story = Story()
    child = Watched(
        module, lambda: ["echo", str(tmp_path / "count")], story.message, story.link,
        Patience(start_s=10.0, stall_s=10.0),
    )  # fmt: skip
    child.start()
    story.wait(ups=1)
    assert child.send(wire.MARK, b"hello")
    with story.changed:
        assert story.changed.wait_for(lambda: b"hello" in story.data, timeout=WAIT_S)
    child.close()
    assert not child.send(wire.MARK, b"again")


def test_a_program_that_cannot_be_started_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    story = Story()
    monkeypatch.setattr(process, "child_command", lambda module, rest: (["/no/such/program"], {}))
    child = Watched("x", list, story.message, story.link)
    child.start()
    with story.changed:
        assert story.changed.wait_for(lambda: bool(story.links), timeout=WAIT_S)
    child.close()
    assert story.links[0].detail.startswith("cannot start the sound process")


def test_a_folder_named_like_the_program_does_not_shadow_it() -> None:
    command, environment = child_command("assistant.system.wire", [])
    assert command[:3] == [sys.executable, "-P", "-m"]
    assert environment["PYTHONPATH"].split(":")[0] == str(Path(watched.__file__).parents[2])
