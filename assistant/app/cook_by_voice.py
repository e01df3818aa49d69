"""`turnspit cook` with a microphone and a speaker, or with a recording in real time."""

import queue
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TextIO

from assistant.app.cook_typed import (
    begin_event,
    cook_typed,
    report_fault,
    sauces_named,
    say_goodbye,
    start,
)
from assistant.app.open_cook import opened_as_asked
from assistant.app.settings import load as load_settings
from assistant.board.display import open_display
from assistant.ears.ears import Ears, EarsError
from assistant.journal.resilient import ResilientJournal
from assistant.live.hearing import LiveEars, names_of, scale_of
from assistant.live.loop import Live
from assistant.live.options import sound_settings
from assistant.live.recording import RecordedMicrophone
from assistant.session.line import Line
from assistant.session.opening import learn_from
from assistant.session.printing import printer
from assistant.session.session import Session
from assistant.session.typed import Inbox, run_typed
from assistant.session.view import Shower
from assistant.sound.files import read_sound
from assistant.sound.microphone_level import ADVICE, Level, fault_of, meter
from assistant.sound.samples import Samples
from assistant.system import parts
from assistant.system.clock import WallClock
from assistant.system.places import journal_path
from assistant.system.standard_input import standard_input
from assistant.voice.chosen import Chosen, chosen_synth
from assistant.voice.synth import Voice, VoiceError

SURE_LEVELS = 8  # half seconds of the same trouble before advice is given


@dataclass
class Surface:
    """Faults and lines for people, beside the session's own; `put_notice` shows a
    standing fault, or takes it away; `put_level` shows a bar."""

    put_line: Callable[[str], None]
    put_notice: Callable[[str | None], None]
    put_level: Callable[[str], None]
    fault: str | None = None
    advice: str | None = None
    suspicions: int = 0

    def notice(self, text: str | None) -> None:
        """A device was lost or is back."""
        self.fault = text
        self._show()

    def line(self, text: str) -> None:
        """One line of the evening."""
        self.put_line(text)

    def level(self, level: Level) -> None:
        """The bar, and what is wrong with the input when it stays wrong."""
        self.put_level(meter(level))
        fault = fault_of(level)
        self.suspicions = self.suspicions + 1 if fault is not None else 0
        advice = ADVICE[fault] if fault is not None and self.suspicions >= SURE_LEVELS else None
        if advice != self.advice:
            self.advice = advice
            self._show()

    def _show(self) -> None:
        self.put_notice("; ".join(filter(None, (self.fault, self.advice))) or None)


@dataclass(frozen=True)
class Showing:
    """Where a live cook shows itself: lines, the whole view, and the surface."""

    show: Callable[[Line], None]
    refresh: Callable[[Session], None]
    surface: Surface


def cook_by_voice(
    *,
    birds: int | None,
    names: str,
    name: str | None,
    status: Path | None,
    plain: bool,
    as_json: bool,
    recording: Path | None,
    small: bool,
    **sound: Any,
) -> None:
    """A live cook by voice; typed lines are taken too. `sound`: see `sound_settings`.

    Where nothing can be heard, one line says why and the cook is typed. Raises
    JournalError, SettingsError, and EarsError and SoundError for a recording.
    """
    trouble = parts.trouble("soxr")
    if trouble is not None and recording is None:
        _aside(f"{trouble}; this cook is typed")
        cook_typed(birds=birds, names=names, name=name, status=status, plain=plain, as_json=as_json)
        return
    settings = sound_settings(small=small, **sound)
    typed = standard_input()
    begin = begin_event(birds, name, names, typed)
    samples = read_sound(recording) if recording is not None else None
    inbox: Inbox = queue.SimpleQueue()
    clock = WallClock()
    try:
        with (
            ResilientJournal.open(journal_path(), at_s=clock.now()) as journal,
            ExitStack() as stack,
        ):
            asked = (birds, sauces_named(names))
            opened = opened_as_asked(journal, clock.now(), name, asked, typed)
            showing = stack.enter_context(_showing(as_json=as_json, plain=plain, status=status))
            voice = _voice(load_settings().voice, showing.surface)
            live = Live(settings, voice, inbox, showing.surface)
            session = Session(
                opened.log, clock, live.speaker, showing.show, opened.state,
                wake=lambda: inbox.put(session.tick), on_fault=report_fault,
            )  # fmt: skip
            start(session, opened, begin, birds)
            try:
                ears = _ears(session, showing.surface)
            except EarsError as error:
                if typed is None or samples is not None:
                    raise
                showing.surface.line(f"{error}; this cook is typed")
                run_typed(session, typed, inbox, showing.refresh)
                live.speaker.close()
            else:
                if typed is not None:
                    threading.Thread(target=_typed, args=(typed, inbox), daemon=True).start()
                _hear(session, live, ears, showing.refresh, samples, inbox)
            learn_from(journal, session)
        say_goodbye(session)
    finally:
        clock.close()


def _hear(
    session: Session,
    live: Live,
    ears: LiveEars,
    show: Callable[[Session], None],
    samples: Samples | None,
    inbox: Inbox,
) -> None:
    """Run the cook by ear, from the microphone or from `samples`, to its end."""
    source = None
    if samples is not None:
        source = RecordedMicrophone(samples, on_end=lambda: inbox.put(None))

    def refresh(session: Session) -> None:
        ears.keep_up(session.state)
        show(session)

    try:
        live.run(session, ears, refresh, source)
    finally:
        ears.close()


def _ears(session: Session, surface: Surface) -> LiveEars:
    ears = Ears(
        names_of(session.state), scale=scale_of(session.state),
        prior=session.prior, notice=surface.line,
    )  # fmt: skip
    return LiveEars(ears, session.state, surface.line)


def _voice(chosen: Chosen, surface: Surface) -> Voice | None:
    try:
        return Voice(chosen_synth(chosen, surface.line))
    except VoiceError as error:
        surface.line(str(error))
        return None


def _typed(stream: TextIO, inbox: Inbox) -> None:
    """Typed lines; unlike a cook that is only typed, this one goes on without them."""
    with suppress(OSError, ValueError):  # the terminal went away, or bytes that are no text
        for line in stream:
            inbox.put(line)


@contextmanager
def _showing(*, as_json: bool, plain: bool, status: Path | None) -> Iterator[Showing]:
    """JSON on standard output with everything else aside, or a display."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))  # so that devices are let go
    if as_json:
        aside = _aside
        surface = Surface(aside, lambda text: aside(text) if text else None, lambda _: None)
        yield Showing(printer(sys.stdout, as_json=True), lambda _: None, surface)
        return
    display = open_display(sys.stdout, plain=plain)
    shower = Shower(display, status)

    def put_notice(text: str | None) -> None:
        shower.notice = text

    try:
        yield Showing(shower.line, shower.refresh, Surface(display.line, put_notice, shower.level))
    finally:
        display.close()


def _aside(text: str) -> None:
    print(text, file=sys.stderr, flush=True)
