"""What was not understood: once a soft tone, twice an example, then silence."""

from assistant.app.rehearse import START_S
from assistant.cook import events as ev
from assistant.cook.commands import AskNext
from assistant.ears.heard import Heard
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.system.clock import VirtualClock
from assistant.voice.speech import Speech, Tone

REFUSED = Heard("juniper why", None, 0.4, "refuse", reason="it was not clear enough")


class Notes:
    """A speaker that notes what it is given."""

    def __init__(self) -> None:
        self.given: list[str] = []

    def say(self, speech: Speech) -> None:
        self.given.append(speech.spoken)

    def tone(self, tone: Tone) -> None:
        self.given.append(tone)

    def hush(self) -> None:
        self.given.append("hush")

    def close(self) -> None:
        pass


def begun() -> tuple[Session, Notes]:
    notes = Notes()
    session = Session(MemoryLog(), VirtualClock(START_S), notes, lambda line: None)
    session.begin(ev.CookBegan(birds=2))
    notes.given.clear()
    return session, notes


def test_misses_are_answered_by_a_tone_then_an_example_then_silence() -> None:
    session, notes = begun()
    for _ in range(5):
        session.hear(REFUSED)
    assert notes.given[0] == "unclear"
    assert notes.given[1].lower().startswith("say")
    assert len(notes.given) == 2


def test_a_command_that_is_understood_begins_the_count_again() -> None:
    session, notes = begun()
    session.hear(REFUSED)
    session.hear(Heard("juniper what's next", AskNext(), 0.99, "accept"))
    notes.given.clear()
    session.hear(REFUSED)
    assert notes.given == ["unclear"]
