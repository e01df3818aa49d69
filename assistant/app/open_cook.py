"""A cook is open already, and this one was started with other birds or sauces: which?"""

import sys
from collections.abc import Sequence
from typing import TextIO

from assistant.app.settings import SettingsError
from assistant.cook.clocktimes import clock_text
from assistant.cook.vocabulary import events as ev
from assistant.journal.resilient import ResilientJournal
from assistant.session.opening import Opened, open_cook

TRIES = 3


def opened_as_asked(
    journal: ResilientJournal,
    now_s: float,
    name: str | None,
    asked: tuple[int | None, Sequence[str]],
    typed: TextIO | None,
) -> Opened:
    """The cook to go on with, or a new one called `name`.

    `asked`: how many birds and which sauces the program was started with. Where the
    open cook has others, the cook is asked which is meant; where nobody sits at a
    keyboard, SettingsError says what to do. Raises JournalError.
    """
    opened = open_cook(journal, now_s, name)
    other = None if opened.is_new else differs(opened, *asked)
    if other is None:
        return opened
    began = clock_text(opened.state.began_s or now_s, opened.state.zone)
    what = f"A cook begun at {began} is still open, {other}."
    if typed is None or not typed.isatty():
        raise SettingsError(
            f"{what} Go on with it: turnspit cook. To begin another, end it first:"
            ' printf "end the cook\\nyes\\n" | turnspit cook --typed'
        )
    if _goes_on(what, typed):
        return opened
    opened.log.append(max(now_s, opened.state.at_s), (ev.CookEnded(),))
    return open_cook(journal, now_s, name)


def differs(opened: Opened, birds: int | None, sauces: Sequence[str]) -> str | None:
    """How the open cook differs from what was asked for, in a few words; None: it does not."""
    has = opened.state.expected_birds
    if birds is not None and has is not None and birds != has:
        return f"with {has} bird{'s' if has > 1 else ''}, not {birds}"
    known = {one for one, _ in opened.state.sauces}
    unknown = [one for one in sauces if one not in known]
    return f"without {' and '.join(unknown)}" if unknown else None


def _goes_on(what: str, typed: TextIO) -> bool:
    for _ in range(TRIES):
        print(f"{what} Go on with it, or end it and begin a new one? [go on] ", end="", flush=True)
        answer = " ".join(typed.readline().lower().split())
        if answer in {"", "go on", "g", "yes", "y"}:
            return True
        if answer in {"new", "n", "end", "end it", "a new one", "begin a new one"}:
            return False
        print('Answer "go on" or "new".', file=sys.stdout)
    return True
