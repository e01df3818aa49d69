"""Running a live cook from typed words: journal, clock, board, session."""

import logging
import queue
import signal
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from typing import TextIO

from assistant.app import kept_plan, settings
from assistant.app.first_use import first_use, is_first_use
from assistant.app.open_cook import opened_as_asked
from assistant.app.settings import SettingsError
from assistant.board.display import open_display
from assistant.cook.naming import WHY, claims
from assistant.cook.rules.sauces import sugar_of
from assistant.cook.vocabulary import events as ev
from assistant.journal.resilient import ResilientJournal
from assistant.sentences import all as sentences
from assistant.session.line import Line
from assistant.session.opening import Opened, learn_from
from assistant.session.printing import printer
from assistant.session.session import Session
from assistant.session.typed import Inbox, run_typed
from assistant.session.view import Shower
from assistant.system.clock import WallClock, local_zone
from assistant.system.places import journal_path
from assistant.system.standard_input import standard_input
from assistant.voice.silent import SilentSpeaker


def cook_typed(
    *,
    birds: int | None,
    names: str,
    name: str | None,
    status: Path | None,
    plain: bool,
    as_json: bool,
) -> None:
    """A live cook whose words come from standard input.

    Raises `JournalError`, `SettingsError`.
    """
    typed = standard_input()
    if typed is None:
        raise SettingsError("nothing can be typed: standard input is closed")
    begin = begin_event(birds, name, names, typed)
    inbox: Inbox = queue.SimpleQueue()
    clock = WallClock()
    try:
        with ResilientJournal.open(journal_path(), at_s=clock.now()) as journal:
            asked = (birds, sauces_named(names))
            opened = opened_as_asked(journal, clock.now(), name, asked, typed)
            with _shown(as_json=as_json, plain=plain, status=status) as (show, refresh):
                session = Session(
                    opened.log, clock, SilentSpeaker(), show, opened.state,
                    wake=lambda: inbox.put(session.tick), on_fault=report_fault,
                )  # fmt: skip
                start(session, opened, begin, birds)
                run_typed(session, typed, inbox, refresh)
            learn_from(journal, session)
            say_goodbye(session)
    finally:
        clock.close()


def start(session: Session, opened: Opened, begin: ev.CookBegan, birds: int | None = None) -> None:
    """Begin the cook, by the plan that was kept for it, or go on with the one opened.

    `birds`: as many were asked for; a plan for another number is not taken up. Once it
    is in the journal the plan is kept no longer.
    """
    plan = None
    try:
        plan = kept_plan.kept()
    except (kept_plan.KeptPlanError, OSError):
        session.tell(sentences.PLAN_UNREADABLE, "plan")
    if not opened.is_new:
        session.resume()
        if plan is not None and plan.serve_s == session.state.serve_s:
            kept_plan.forget()
        return
    now_s = session.now()
    if plan is None or not plan.is_for(now_s) or birds not in {None, len(plan.birds)}:
        session.begin(begin)
        if plan is not None and plan.is_for(now_s):
            session.tell(sentences.plan_left(len(plan.birds)), "plan")
        return
    begin = plan.began(begin)
    session.begin(begin)
    session.take_up(plan.events(begin, now_s))
    kept_plan.forget()


def say_goodbye(session: Session) -> None:
    """After a cook that has ended, name what comes next, beside its lines."""
    if session.state.ended_s is not None:
        print("How the evening went, and what to do better: turnspit lookback", file=sys.stderr)


def begin_event(
    birds: int | None, name: str | None, names: str = "", typed: TextIO | None = None
) -> ev.CookBegan:
    """How a cook begins here: the settings' defaults and the computer's time zone.

    `names`: tonight's sauces, beside those of the settings ("apricot, harissa"). The
    first time, and only where somebody types at a keyboard (`typed`), four questions
    make the settings. Raises `SettingsError`.
    """
    if typed is not None and is_first_use(typed) and sys.stdout.isatty():
        first_use(typed, sys.stdout)
    own = settings.load()
    tonight = sauces_named(names)
    for one in (*tonight, name or ""):
        if claims(one):
            raise SettingsError(f"{one!r}: {WHY}; choose another")
    sauces = dict(own.sauces) | {one: sugar_of(one, own.sauces) for one in tonight}
    return replace(own, sauces=tuple(sauces.items())).began(local_zone(), birds, name)


def sauces_named(names: str) -> tuple[str, ...]:
    """The sauce names in "apricot, harissa", in lower case."""
    return tuple(" ".join(one.lower().split()) for one in names.split(",") if one.strip())


def report_fault(error: Exception) -> None:
    """An error of the program itself: kept for its developers, the cook goes on."""
    log = logging.getLogger("turnspit")
    log.error("an error inside; please report it", exc_info=error)


Shown = tuple[Callable[[Line], None], Callable[[Session], None]]


@contextmanager
def _shown(*, as_json: bool, plain: bool, status: Path | None) -> Iterator[Shown]:
    """Where lines and views go: JSON on standard output, or a display."""
    if as_json:
        yield printer(sys.stdout, as_json=True), lambda _: None
        return
    display = open_display(sys.stdout, plain=plain)
    shower = Shower(display, status)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(0))  # so that the terminal is given back
    try:
        yield shower.line, shower.refresh
    finally:
        display.close()
