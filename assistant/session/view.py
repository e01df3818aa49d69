"""What a session shows, on the board, in the status file and as lines."""

from dataclasses import replace
from pathlib import Path

from assistant.board.display import Display
from assistant.board.status_file import replace_text, status_text
from assistant.board.view import BoardView, Due
from assistant.cook.rules.due import Prompt, prompts
from assistant.cook.state import Cook
from assistant.sentences import all as sentences
from assistant.sentences.sign import sign
from assistant.session.line import Line
from assistant.session.printing import plain_text
from assistant.session.session import Session

TALK = {"said", "heard", "refused"}
COMING = 6  # things handed to the board


def view_of(session: Session, notice: str | None = None) -> BoardView:
    """The snapshot of a session that the board shows."""
    state, now_s = session.state, session.now()
    said = session.last_said.text if session.last_said is not None else None
    return BoardView(
        cook=state,
        now_s=now_s,
        forecast=session.forecast,
        fire_leaves=session.fire.leaves if session.fire is not None else None,
        fire_help=sentences.fire_help(state, now_s),
        due=due_of(state, now_s),
        heard=state.last_heard,
        said=said,
        question=sentences.open_question(state),
        notice=notice,
        missed=session.missed,
    )


def due_of(state: Cook, now_s: float) -> tuple[Due, ...]:
    """What is due and what comes; things of one kind that are due at once are one.

    What comes is worded as it will be said then: a bird is off longer by that time.
    """
    groups: dict[object, list[Prompt]] = {}
    for one in prompts(state):
        groups.setdefault((one.kind, max(one.due_s, now_s)), []).append(one)
    return tuple(
        Due(some[0].due_s, sentences.prompt(tuple(some), state, max(now_s, some[0].due_s)).text,
            some[0].urgency, sign(some))
        for some in list(groups.values())[:COMING]
    )  # fmt: skip


class Shower:
    """Lines to a display, and after each batch the whole view to it and the status file."""

    def __init__(self, display: Display, status: Path | None = None) -> None:
        self._display = display
        self._status = status
        self.notice: str | None = None
        self._level: str | None = None
        self._shown: BoardView | None = None

    def level(self, bar: str) -> None:
        """How loud the microphone hears now; from any thread."""
        if bar != self._level:
            self._level = bar
            if self._shown is not None:
                self._display.show(replace(self._shown, level=bar))

    def line(self, line: Line) -> None:
        """One line of the session; only talk goes to the display's log."""
        text = plain_text(line) if line.kind in TALK else None
        if text is not None:
            self._display.line(text)

    def refresh(self, session: Session) -> None:
        """Show how things stand."""
        view = replace(view_of(session, self.notice), level=self._level)
        self._shown = view
        self._display.show(view)
        if self._status is not None:
            try:
                replace_text(self._status, status_text(view))
            except OSError as error:
                self._display.line(f"the status file was not written: {error.strerror}")
                self._status = None
