"""What was not understood: a soft tone, and in words what came of it, every time."""

from assistant.app.rehearse import START_S
from assistant.board.layout import board_rows
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import AskNext
from assistant.ears.heard import Heard
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.view import view_of
from assistant.system.clock import VirtualClock
from assistant.voice.speech import Speech, Tone

REFUSED = Heard("turnspit why", None, 0.4, "refuse", reason="it was not clear enough")


class Notes:
    """A speaker that notes what it is given."""

    def __init__(self) -> None:
        self.given: list[str] = []

    def say(self, speech: Speech) -> None:
        self.given.append(speech.spoken)

    def tone(self, tone: Tone) -> None:
        self.given.append(tone)

    def duck(self, *, down: bool) -> None:
        """The voice is turned down, or up again."""

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


def test_every_miss_is_answered_the_second_by_an_example() -> None:
    session, notes = begun()
    for _ in range(4):
        session.hear(REFUSED)
    first, second, *later = notes.given[1::2]
    assert notes.given[::2] == ["unclear"] * 4
    assert first == "Not understood. Say it again."
    assert second.lower().startswith("say")
    assert later == ["Not understood. Nothing noted."] * 2


def test_a_miss_is_shown_in_words_until_something_is_taken() -> None:
    """At eighty columns it must not look like the answer before it."""
    session, _ = begun()
    session.hear(Heard("turnspit what's next", AskNext(), 0.99, "accept"))
    session.hear(REFUSED)
    for width, height in ((60, 12), (80, 21), (200, 47)):
        shown = "\n".join(row.plain for row in board_rows(view_of(session), width, height))
        assert "turnspit why" in shown
        assert "Not taken: it was not clear enough" in shown
        assert "Nothing is due" not in shown.split("Heard")[-1]
    session.hear(Heard("turnspit what's next", AskNext(), 0.99, "accept"))
    assert view_of(session).missed is None


def test_a_command_that_is_understood_begins_the_count_again() -> None:
    session, notes = begun()
    session.hear(REFUSED)
    session.hear(Heard("turnspit what's next", AskNext(), 0.99, "accept"))
    notes.given.clear()
    session.hear(REFUSED)
    assert notes.given == ["unclear", "Not understood. Say it again."]
