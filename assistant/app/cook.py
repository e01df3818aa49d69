"""`turnspit cook`: a live cook by voice, from a recording in real time, or typed."""

import logging
import queue
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TextIO

from assistant.app.begin import begin_event, sauces_named, start
from assistant.app.open_cook import opened_as_asked
from assistant.app.settings import SettingsError
from assistant.app.settings import load as load_settings
from assistant.app.surface import Showing, Surface, say_aside, showing
from assistant.ears.ears import Ears, EarsError
from assistant.journal.resilient import ResilientJournal
from assistant.live.hearing import LiveEars, names_of, scale_of
from assistant.live.loop import Live
from assistant.live.options import sound_settings
from assistant.live.recording import RecordedMicrophone
from assistant.session.opening import learn_from
from assistant.session.session import Session
from assistant.session.typed import Inbox, run_typed
from assistant.sound.files import read_sound
from assistant.sound.samples import Samples
from assistant.system import parts
from assistant.system.clock import Clock, WallClock
from assistant.system.places import journal_path
from assistant.system.standard_input import standard_input
from assistant.voice.chosen import Chosen, chosen_synth
from assistant.voice.silent import SilentSpeaker
from assistant.voice.speech import Speaker
from assistant.voice.synth import Voice, VoiceError

Begun = Callable[[Speaker], Session]
"""Begins the cook, or goes on with it, said by that speaker."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a cook was started with on the command line."""

    birds: int | None
    names: str
    name: str | None
    status: Path | None
    plain: bool
    as_json: bool


def cook_typed(asked: Asked) -> None:
    """A live cook whose words come from standard input.

    Raises `JournalError`, `SettingsError`.
    """
    typed = standard_input()
    if typed is None:
        raise SettingsError("nothing can be typed: standard input is closed")
    inbox: Inbox = queue.SimpleQueue()

    def run(shown: Showing, begun: Begun) -> Session:
        session = begun(SilentSpeaker())
        run_typed(session, typed, inbox, shown.refresh, load_settings().address)
        return session

    _cook(asked, typed, inbox, run)


def cook_by_voice(asked: Asked, *, recording: Path | None, small: bool, **sound: Any) -> None:
    """A live cook by voice; typed lines are taken too. `sound`: see `sound_settings`.

    Where nothing can be heard, one line says why and the cook is typed. Raises
    JournalError, SettingsError, and EarsError and SoundError for a recording.
    """
    trouble = parts.trouble("soxr")
    if trouble is not None and recording is None:
        say_aside(f"{trouble}; this cook is typed")
        cook_typed(asked)
        return
    address = load_settings().address
    settings = sound_settings(small=small, address=address, **sound)
    typed = standard_input()
    samples = read_sound(recording) if recording is not None else None
    inbox: Inbox = queue.SimpleQueue()

    def run(shown: Showing, begun: Begun) -> Session:
        live = Live(settings, _voice(load_settings().voice, shown.surface), inbox, shown.surface)
        session = begun(live.speaker)
        try:
            ears = _ears(session, shown.surface, address)
        except EarsError as error:
            if typed is None or samples is not None:
                raise
            shown.surface.line(f"{error}; this cook is typed")
            run_typed(session, typed, inbox, shown.refresh, address)
            live.speaker.close()
            return session
        if typed is not None:
            threading.Thread(target=_typed, args=(typed, inbox), daemon=True).start()
        _hear(session, live, ears, shown.refresh, samples, inbox)
        return session

    _cook(asked, typed, inbox, run)


def _cook(
    asked: Asked, typed: TextIO | None, inbox: Inbox, run: Callable[[Showing, Begun], Session]
) -> None:
    """Open the journal, the clock and the board, and `run` the cook to its end: the one that
    is unfinished, or a new one."""
    begin = begin_event(asked.birds, asked.name, asked.names, typed)
    clock = WallClock()
    try:
        with _journal(clock) as journal:
            wanted = (asked.birds, sauces_named(asked.names))
            opened = opened_as_asked(journal, clock.now(), asked.name, wanted, typed)
            with showing(as_json=asked.as_json, plain=asked.plain, status=asked.status) as shown:

                def begun(speaker: Speaker) -> Session:
                    session = Session(
                        opened.log, clock, speaker, shown.show, opened.state,
                        wake=lambda: inbox.put(session.tick), on_fault=_report_fault,
                    )  # fmt: skip
                    start(session, opened, begin, asked.birds)
                    return session

                session = run(shown, begun)
            learn_from(journal, session)
        _say_goodbye(session)
    finally:
        clock.close()


@contextmanager
def _journal(clock: Clock) -> Iterator[ResilientJournal]:
    """The journal; where it did not take all of the cook, a last line says where that is."""
    with ResilientJournal.open(journal_path(), at_s=clock.now()) as journal:
        try:
            yield journal
        finally:
            if (where := journal.last_try(clock.now())) is not None:
                say_aside(where)


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


def _ears(session: Session, surface: Surface, address: str) -> LiveEars:
    ears = Ears(
        names_of(session.state), scale=scale_of(session.state), address=address,
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


def _say_goodbye(session: Session) -> None:
    """After a cook that has ended, name what comes next, beside its lines."""
    if session.state.ended_s is not None:
        print("How the evening went, and what to do better: turnspit lookback", file=sys.stderr)


def _report_fault(error: Exception) -> None:
    """An error of the program itself: kept for its developers, the cook goes on."""
    log = logging.getLogger("turnspit")
    log.error("an error inside; please report it", exc_info=error)
