"""Words to a command, by the same grammar the recognisers listen with."""

from functools import lru_cache

from assistant.cook.state import MOST_BIRDS
from assistant.cook.vocabulary.commands import Command, Scale
from assistant.grammar.clean import LONGEST, cleaned, is_too_long
from assistant.grammar.expect import explain
from assistant.grammar.grammar import Names, fitted
from assistant.grammar.match import Failure, Matcher
from assistant.grammar.meaning import is_command, meanings
from assistant.grammar.open_names import with_open_name


class NotUnderstood(ValueError):  # noqa: N818  (it is an outcome, and reads as one)
    """No command. `reason` is one clear line; `expected` names what could have come."""

    def __init__(self, reason: str, expected: tuple[str, ...] = ()) -> None:
        super().__init__(reason)
        self.reason = reason
        self.expected = expected


def parse(words: str, names: Names, *, scale: Scale = "F", open_names: bool = False) -> Command:
    """The command in `words`, spoken or typed ("bird 2 reads 118.5 F", "5 lb 8 oz").

    A number said without its scale is in `scale`; nothing is guessed from its size.
    Bird numbers up to 8 are read whatever tonight's are: refusing one that is not on
    the spit is the cook's decision. `open_names` takes any sauce name of one or two words
    after "gets", and any timer's name of up to three. Raises NotUnderstood.
    """
    readings = all_readings(words, names, scale=scale, open_names=open_names)
    return readings[0]


def all_readings(
    words: str, names: Names, *, scale: Scale = "F", open_names: bool = False
) -> tuple[Command, ...]:
    """Every command the words can mean; one, for words the grammar makes."""
    if is_too_long(words):
        raise NotUnderstood(f"that is longer than any command ({LONGEST} characters)")
    tokens = cleaned(words)
    if not tokens:
        raise NotUnderstood("no words there")
    matcher = matcher_of(names, scale)
    failure = Failure()
    found = _commands(matcher, tokens, failure)
    if not found and open_names:
        found = with_open_name(lambda some: _commands(matcher, some, Failure()), tokens)
    if not found:
        reason, expected = explain(tokens, failure, scale)
        raise NotUnderstood(reason, expected)
    return found


def _commands(matcher: Matcher, tokens: tuple[str, ...], failure: Failure) -> tuple[Command, ...]:
    readings = matcher.readings("command", tokens, failure)
    return tuple(value for values in readings for value in values if is_command(value))


def matcher_of(names: Names, scale: Scale = "F") -> Matcher:
    """The grammar made ready for these names."""
    return _matcher(names.sauces, names.timers, scale)


@lru_cache(maxsize=32)
def _matcher(sauces: tuple[str, ...], timers: tuple[str, ...], scale: Scale) -> Matcher:
    return Matcher(fitted(Names(MOST_BIRDS, sauces, timers), scale=scale), meanings(scale))
