"""Nothing is said of a fact before it is kept."""

from collections.abc import Sequence

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker
from assistant.voice.speech import Speech
from tests.cook.build import START_S

KEPT = "kept"


class Watched(MemoryLog):
    """A log that notes when it kept something in the list where speech is noted."""

    def __init__(self, order: list[str]) -> None:
        super().__init__()
        self.order = order

    def append(self, at_s: float, events: Sequence[ev.Event]) -> tuple[ev.Recorded, ...]:
        recorded = super().append(at_s, events)
        self.order.append(KEPT)
        return recorded


class Mouth(SilentSpeaker):
    """Notes what it is given to say."""

    def __init__(self, order: list[str]) -> None:
        self.order = order

    def say(self, speech: Speech) -> None:
        self.order.append(speech.text)


def kitchen() -> tuple[Session, VirtualClock, list[str]]:
    order: list[str] = []
    clock = VirtualClock(START_S)

    def show(line: Line) -> None:
        if line.kind in {"said", "event"}:
            order.append(str(line.fields.get("text", line.fields.get("name"))))

    log = Watched(order)
    session = Session(log, clock, Mouth(order), show)
    session.begin(ev.CookBegan(birds=2))
    return session, clock, order


@pytest.mark.parametrize(
    "words",
    [
        "birds on",
        "bird one reads 118",
        "remind me in five minutes",
        "added twelve briquettes",
        "scratch that",
        "bird nine reads 118",
        "the fire is lit and I added 12 briquettes",
    ],
)
def test_what_is_said_to_words_is_kept_first(words: str) -> None:
    session, clock, order = kitchen()
    session.hear(heard_typed("grill is 370", "F"))
    del order[:]
    session.hear(heard_typed(words, "F"))
    clock.close()
    assert KEPT in order
    assert order[0] == KEPT
    assert len(order) > 1, "nothing was said"
    assert order[-1] != KEPT, "kept after it was said"


def test_what_falls_due_is_kept_before_it_is_said() -> None:
    session, clock, order = kitchen()
    session.hear(heard_typed("remind me in five minutes", "F"))
    del order[:]
    clock.run_until(clock.now() + 301.0)
    clock.close()
    assert order[0] == KEPT
    assert "prompt" in order[1]
    assert "imer" in order[2]


def test_coming_back_is_kept_before_it_is_said() -> None:
    session, clock, _ = kitchen()
    session.hear(heard_typed("birds on", "F"))
    clock.close()
    again: list[str] = []
    log = Watched(again)
    late = VirtualClock(START_S + 600.0)
    back = Session(log, late, Mouth(again), lambda _: None, session.state)
    back.resume()
    late.close()
    assert again[0] == KEPT
    assert len(again) > 1
