"""How a cook begins: by the settings, or by the plan that was kept for it."""

import sys
from dataclasses import replace
from typing import TextIO

from assistant.app import kept_plan, settings
from assistant.app.first_use import first_use, is_first_use
from assistant.app.settings import SettingsError
from assistant.cook.naming import WHY, claims
from assistant.cook.rules.sauces import sugar_of
from assistant.cook.vocabulary import events as ev
from assistant.sentences import all as sentences
from assistant.session.opening import Opened
from assistant.session.session import Session
from assistant.system.clock import local_zone


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
