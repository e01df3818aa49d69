"""Where a sentence may end: what the grammar lets follow the words said so far."""

from dataclasses import dataclass
from functools import lru_cache

from assistant.cook.state import MOST_BIRDS
from assistant.cook.vocabulary.commands import Scale
from assistant.grammar.clean import cleaned, is_too_long
from assistant.grammar.grammar import Names, fitted
from assistant.grammar.match import Failure, Matcher
from assistant.grammar.meaning import is_command, meanings


@dataclass(frozen=True, slots=True)
class Ending:
    """`is_whole`: the words are a command; `goes_on`: more words could follow them."""

    is_whole: bool
    goes_on: bool


@lru_cache(maxsize=512)
def ending(words: str, names: Names, scale: Scale = "F") -> Ending:
    """How the words stand in tonight's grammar; no words at all are a beginning."""
    tokens = () if is_too_long(words) else cleaned(words)
    if not tokens:
        return Ending(is_whole=False, goes_on=not words)
    failure = Failure()
    readings = _matcher(names.sauces, names.timers, scale).readings("command", tokens, failure)
    whole = any(is_command(value) for values in readings for value in values)
    return Ending(whole, goes_on=bool(failure.looked_for.get(len(tokens))))


@lru_cache(maxsize=8)
def _matcher(sauces: tuple[str, ...], timers: tuple[str, ...], scale: Scale) -> Matcher:
    return Matcher(
        fitted(Names(MOST_BIRDS, sauces, timers), scale=scale, lean=True), meanings(scale)
    )
