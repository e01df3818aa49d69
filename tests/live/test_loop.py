"""The live loop without devices: a recording in the microphone's place, scripted ears."""

import queue
import sys
from pathlib import Path

import numpy as np
import pytest

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import BirdsOn
from assistant.ears.heard import Heard
from assistant.live import loop
from assistant.live.loop import Live
from assistant.live.options import LiveSettings
from assistant.live.recording import RecordedMicrophone
from assistant.live.utterance import Outlook
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.typed import Inbox, heard_typed
from assistant.sound.microphone_level import Level
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system.clock import WallClock
from assistant.system.watched import Link
from tests.benchmarks.corpus import say, voices


class Board:
    """A surface that notes what it is shown."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.notices: list[str | None] = []

    def notice(self, text: str | None) -> None:
        self.notices.append(text)

    def line(self, text: str) -> None:
        self.lines.append(text)

    def level(self, level: Level) -> None:
        pass


class Ears:
    """Understands everything as the same thing."""

    def __init__(self, heard: Heard, *, meant: bool = True) -> None:
        self.heard = heard
        self.meant = meant

    def hear(self, samples: Samples, free: bool) -> Heard:
        return self.heard

    def opens(self, samples: Samples) -> bool:
        return False

    def outlook(self, heard: Heard) -> Outlook:
        return "whole"

    def is_meant(self, heard: Heard, free: bool) -> bool:
        return self.meant


class NoDevice:
    """Stands where the speaker device is; there is none."""

    def __init__(self, on_link, **settings: object) -> None:  # type: ignore[no-untyped-def]
        self.on_link = on_link

    def play(self, sound: object, gain_db: float = 0.0) -> bool:
        return False

    def duck(self, *, down: bool) -> None:
        """The voice is turned down, or up again."""

    def hush(self) -> None:
        pass

    def close(self) -> None:
        pass


@pytest.fixture
def no_device(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(loop, "DevicePlayer", NoDevice)


def recording() -> Samples:
    voice = (*voices(("joe", "slt", "en-us")), None)[0]
    if voice is None:
        pytest.skip("no synthetic voice installed")
    return say("turnspit birds on", voice)


def evening(ears: Ears, settings: LiveSettings | None = None) -> tuple[Board, list[Line], Session]:
    """A recording of one command, heard by `ears`."""
    inbox: Inbox = queue.SimpleQueue()
    board, clock = Board(), WallClock()
    lines: list[Line] = []
    live = Live(settings or LiveSettings(), None, inbox, board)
    session = Session(MemoryLog(), clock, live.speaker, lines.append, wake=lambda: None)
    session.begin(ev.CookBegan(birds=2))
    source = RecordedMicrophone(recording(), on_end=lambda: inbox.put(None))
    try:
        live.run(session, ears, lambda session: None, source)
    finally:
        clock.close()
    return board, lines, session


HEARD = Heard("turnspit birds on", BirdsOn(), 0.99, "accept")


@pytest.mark.usefixtures("no_device")
def test_a_spoken_command_reaches_the_cook_once() -> None:
    _, lines, session = evening(Ears(HEARD))
    assert [line.fields["words"] for line in lines if line.kind == "heard"] == [HEARD.words]
    assert all(bird.is_on for bird in session.state.birds)
    assert len(session.state.birds) == 2


@pytest.mark.usefixtures("no_device")
def test_talk_that_was_not_meant_for_it_leaves_no_trace(tmp_path: Path) -> None:
    talk = Heard("that's right", None, 0.1, "refuse", reason="it did not sound like a command")
    settings = LiveSettings(keep_audio=tmp_path / "audio")
    _, lines, session = evening(Ears(talk, meant=False), settings)
    assert not [line for line in lines if line.kind in ("heard", "refused", "said")]
    assert session.state.last_heard is None
    assert list((tmp_path / "audio").iterdir()) == []


@pytest.mark.usefixtures("no_device")
def test_kept_audio_holds_the_command_and_says_where_it_lies(tmp_path: Path) -> None:
    settings = LiveSettings(keep_audio=tmp_path / "audio")
    board, _, _ = evening(Ears(HEARD), settings)
    (kept,) = (tmp_path / "audio").iterdir()
    assert kept.name.endswith("_accept_turnspit_birds_on.flac")
    assert str(tmp_path / "audio") in board.lines[0]


@pytest.mark.usefixtures("no_device")
def test_lost_devices_stay_on_the_board_until_they_are_back() -> None:
    board = Board()
    inbox: Inbox = queue.SimpleQueue()
    live = Live(LiveSettings(), None, inbox, board)
    opened = '{"device": "USB", "rate_hz": 48000, "channels": 1, "is_wanted": true}'
    live._link("microphone", Link(up=True, detail=opened))
    live._link("microphone", Link(up=False, detail="no sound data for a while"))
    live._link("speaker", Link(up=False, detail="no speaker found: plug one in"))
    assert board.notices[-1] == (
        "microphone lost: no sound data for a while; speaker lost: no speaker found: plug one in"
    )
    live._link("speaker", Link(up=True, detail=opened))
    live._link("microphone", Link(up=True, detail=opened))
    assert board.notices[-1] is None
    assert board.lines == [
        "I cannot hear you. Look at the microphone.",
        "I have no speaker: my words are only here.",
        "I can speak again.",
        "I hear you again.",
        "Begin with turnspit. I am listening, also while I speak.",
    ]
    live.close()


@pytest.mark.usefixtures("no_device")
def test_a_stand_in_microphone_is_named() -> None:
    board = Board()
    live = Live(LiveSettings(), None, queue.SimpleQueue(), board)
    opened = '{"device": "Built-in", "rate_hz": 48000, "channels": 2, "is_wanted": false}'
    live._link("microphone", Link(up=True, detail=opened))
    assert board.lines == ["I listen to another microphone: Built-in."]
    live.close()


OPENED = '{"device": "USB", "rate_hz": 48000, "channels": 1, "is_wanted": true}'


@pytest.mark.usefixtures("no_device")
@pytest.mark.parametrize("first", ["microphone", "speaker"])
def test_it_says_once_that_it_listens_when_it_can_hear_and_be_heard(first: str) -> None:
    board = Board()
    live = Live(LiveSettings(full_duplex=True), None, queue.SimpleQueue(), board)
    second = "speaker" if first == "microphone" else "microphone"
    live._link(first, Link(up=True, detail=OPENED))
    assert board.lines == []
    live._link(second, Link(up=True, detail=OPENED))
    assert board.lines == ["Begin with turnspit. I am listening, also while I speak."]
    live._link(first, Link(up=False, detail="gone"))
    live._link(first, Link(up=True, detail=OPENED))
    assert sum("I am listening" in line for line in board.lines) == 1
    live.close()


@pytest.mark.usefixtures("no_device")
def test_how_it_listens_is_told_as_it_is(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "pywebrtc_audio", None)
    for settings, told in (
        (LiveSettings(), "Begin with turnspit. I am listening, but not while I speak."),
        (LiveSettings(push_only=True), "I am listening when you press the key."),
    ):
        live = Live(settings, None, queue.SimpleQueue(), Board())
        assert live._greeting().text == told
        live.close()


@pytest.mark.usefixtures("no_device")
@pytest.mark.parametrize("is_late", [False, True])
def test_an_answer_needs_no_address_word_for_a_while_and_talk_soon_needs_it_again(
    is_late: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A question nobody answered stays open for minutes: what is said at the table meanwhile was
    heard as an answer to it."""
    monkeypatch.setattr(loop, "ANSWER_S", 0.0 if is_late else loop.ANSWER_S)
    clock = WallClock()
    live = Live(LiveSettings(), None, queue.SimpleQueue(), Board())
    session = Session(MemoryLog(), clock, live.speaker, lambda line: None, wake=lambda: None)
    session.begin(ev.CookBegan(birds=2))
    listener = live._listener(session, Ears(HEARD))
    try:
        session.hear(heard_typed("birds on", "F"))
        assert live.speaker.wait_idle(20.0)
        assert not listener.wiring.is_free()
        session.hear(heard_typed("end cook", "F"))
        assert live.speaker.wait_idle(20.0)
        assert session.state.pending is not None
        assert listener.wiring.is_free() is not is_late
    finally:
        listener.close()
        live.close()
        clock.close()


@pytest.mark.usefixtures("no_device")
def test_lost_sound_is_told_once_and_a_single_stumble_never() -> None:
    told = "Some sound was lost: this computer is too busy. Say again what I did not read back."
    for lost, lines in ((0, 0), (1, 0), (loop.LOST_OFTEN, 1)):
        inbox: Inbox = queue.SimpleQueue()
        board, clock = Board(), WallClock()
        live = Live(LiveSettings(), None, inbox, board)
        session = Session(MemoryLog(), clock, live.speaker, lambda line: None, wake=lambda: None)
        session.begin(ev.CookBegan(birds=2))
        source = RecordedMicrophone(recording(), on_end=lambda box=inbox: box.put(None))  # type: ignore[misc]
        source.lost = lost
        live.run(session, Ears(HEARD), lambda session: None, source)
        clock.close()
        assert board.lines.count(told) == lines


def test_a_recording_is_fed_whole_and_ends_in_silence() -> None:
    ended = []
    samples = np.full(RATE_HZ // 4, 1000, np.int16)
    microphone = RecordedMicrophone(samples, on_end=lambda: ended.append(True))
    blocks = [microphone.blocks.get(timeout=5) for _ in range(70)]
    microphone._thread.join(timeout=5)
    joined = np.concatenate([block.samples for block in blocks])
    assert np.array_equal(joined[: len(samples)], samples)
    assert not joined[len(samples) :].any()
    assert ended == [True]
