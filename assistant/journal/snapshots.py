"""The state of a long cook kept beside its events, so that it opens in a moment.

A snapshot is never more than a short cut: it holds only together with the event it
was taken after (their seals are chained) and for the very code that made it;
otherwise all events are folded again. `turnspit check` compares the two.
"""

import hashlib
import inspect
import json
from functools import lru_cache

from assistant.cook import state
from assistant.cook.rules import fold
from assistant.cook.rules.fold import fold as folded
from assistant.cook.state import Cook
from assistant.cook.vocabulary import codec as cook_codec
from assistant.cook.vocabulary import commands, events
from assistant.cook.vocabulary.codec import CodecError, state_from_json, state_json
from assistant.heat.bird import evidence
from assistant.journal.codec import SEAL_BYTES
from assistant.journal.reader import JournalReader

EVERY = 250  # events between two; most evenings need one or two


@lru_cache(maxsize=1)
def version() -> str:
    """Changes with any line of code that makes or describes a state."""
    digest = hashlib.blake2b(digest_size=SEAL_BYTES)
    for module in (commands, events, state, evidence, fold, cook_codec):
        digest.update(inspect.getsource(module).encode())
    return digest.hexdigest()


def to_text(cook: Cook) -> str:
    """A state as ASCII JSON."""
    return json.dumps(state_json(cook), separators=(",", ":"))


def seal(text: str, of_event: bytes) -> bytes:
    """Ties a snapshot to the seal of the event it was taken after."""
    return hashlib.blake2b(of_event + text.encode(), digest_size=SEAL_BYTES).digest()


def kept(reader: JournalReader, cook_id: str) -> Cook | None:
    """The state that was kept last; None where there is none that can be trusted."""
    found = reader.snapshot(cook_id)
    if found is None or found.version != version():
        return None
    row = reader.row(cook_id, found.seq)
    if row is None or found.seal != seal(found.state, row.seal):
        return None
    try:
        return state_from_json(json.loads(found.state))
    except (CodecError, ValueError, RecursionError):
        return None


def is_true(reader: JournalReader, cook_id: str, start: Cook) -> bool:
    """Whether the kept state is what all events before it make of `start`."""
    state_ = kept(reader, cook_id)
    if state_ is None:
        return True
    before = [entry for entry in reader.events(cook_id) if entry.seq <= state_.seq]
    return folded(before, start) == state_
