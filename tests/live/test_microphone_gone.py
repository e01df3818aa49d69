"""The microphone is gone for ten minutes of a cook, on the virtual clock."""

import queue
import time
from functools import partial

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.live import loop
from assistant.live.loop import Live
from assistant.live.options import LiveSettings
from assistant.live.recording import silence_after
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.typed import Inbox, heard_typed
from assistant.sound.microphone import Block
from assistant.system.clock import VirtualClock
from assistant.system.watched import Link
from tests.journal.evenings import START_S
from tests.live.test_loop import HEARD, Board, Ears, NoDevice, recording

OPENED = '{"device": "USB", "rate_hz": 48000, "channels": 1, "is_wanted": true}'
WAIT_S = 20.0


def test_the_cook_goes_on_without_a_microphone_and_listens_again_when_it_is_back(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(loop, "DevicePlayer", NoDevice)
    sound = silence_after(recording())
    inbox: Inbox = queue.SimpleQueue()
    board, lines, clock = Board(), list[Line](), VirtualClock(START_S)
    live = Live(LiveSettings(), None, inbox, board)
    session = Session(MemoryLog(), clock, live.speaker, lines.append)
    session.begin(ev.CookBegan(birds=2))
    session.hear(heard_typed("remind me in five minutes", "F"))
    listener = live._listener(session, Ears(HEARD))
    link = partial(live._microphone_link, listener)
    try:
        link(Link(up=True, detail=OPENED))
        listener.feed(Block(sound[: len(sound) // 3], time.monotonic()))  # half a sentence
        link(Link(up=False, detail="no microphone found: plug one in"))
        lines.clear()
        clock.run_until(START_S + 600.0)
        session.hear(heard_typed("fire is lit", "F"))
        assert board.notices[-1] == "microphone lost: no microphone found: plug one in"
        prompted = [line for line in lines if line.kind == "said" and line.t == 300.0]
        assert len(prompted) == 1
        assert session.state.fire.lit_s == START_S + 600.0
        assert listener.wait_idle(WAIT_S)
        assert inbox.empty()  # of the half sentence nothing is left

        link(Link(up=True, detail=OPENED))
        assert board.notices[-1] is None
        live.speaker.wait_idle(WAIT_S)  # what it still has to say would close its ears
        listener.feed(Block(sound, time.monotonic()))
        assert listener.wait_idle(WAIT_S)
        turn = inbox.get(timeout=WAIT_S)
        assert callable(turn)
        lines.clear()
        turn()
        assert [line.fields["words"] for line in lines if line.kind == "heard"] == [HEARD.words]
        assert [line.fields["urgency"] for line in lines if line.kind == "said"] == ["reply"]
        assert all(bird.is_on for bird in session.state.birds)
    finally:
        listener.close()
        live.close()
        clock.close()
