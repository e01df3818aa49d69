"""A live cook whose words are typed: one line from a stream, one utterance."""

import queue
import threading
from collections.abc import Callable
from dataclasses import replace
from typing import TextIO

from assistant.cook.state import Cook
from assistant.cook.vocabulary.commands import Number, Scale
from assistant.ears.heard import Heard
from assistant.grammar.address import without_address
from assistant.grammar.clean import LONGEST, cleaned
from assistant.grammar.grammar import ADDRESS, Names
from assistant.grammar.parse import NotUnderstood, parse
from assistant.session.free_words import heard_free, is_reading
from assistant.session.session import Session

Inbox = queue.SimpleQueue[str | None | Callable[[], None]]


def heard_typed(
    words: str, scale: Scale, state: Cook | None = None, address: str = ADDRESS
) -> Heard:
    """What a typed line means: typed words are taken as they stand, with or without
    the address word; with the `state` of the cook, in the cook's own words as well."""
    shown = " ".join(cleaned(words[:LONGEST]))
    meant = without_address(words, address)
    try:
        command = parse(meant, Names(), scale=scale, open_names=True)
    except NotUnderstood as error:
        if state is not None and meant.strip():
            free = heard_free(meant, shown, state)
            return (
                free
                if free.reason or free.outcome != "refuse"
                else replace(free, reason=str(error))
            )
        return Heard(shown, None, 0.0, "refuse", reason=str(error))
    if isinstance(command, Number) and state is not None and is_reading(state):
        return heard_free(meant, shown, state)
    return Heard(shown, command, 1.0, "accept")


def run_typed(
    session: Session, stream: TextIO, inbox: Inbox, refresh: Callable[[Session], None],
    address: str = ADDRESS,
) -> None:  # fmt: skip
    """Take lines until the stream or the cook ends. Calls put into `inbox` (the
    clock's wake) run here too, so that the session is used from one thread."""
    threading.Thread(target=_read, args=(stream, inbox), daemon=True).start()
    while session.state.is_running:
        refresh(session)
        item = inbox.get()
        if item is None:
            break
        if callable(item):
            item()
        elif item.strip():
            session.hear(heard_typed(item, session.state.scale, session.state, address))
    refresh(session)


def _read(stream: TextIO, inbox: Inbox) -> None:
    try:
        while line := stream.readline(MOST_READ):
            inbox.put(line)
    except (OSError, ValueError):  # the terminal went away, or bytes that are no text
        pass
    inbox.put(None)


MOST_READ = 1 << 20  # characters of one line; the rest comes as another
