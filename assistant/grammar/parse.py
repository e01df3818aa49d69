"""Words to a command, by the same grammar the recognisers listen with."""

from functools import lru_cache

from assistant.cook.commands import BirdSauce, Command, Scale
from assistant.grammar.clean import LONGEST, cleaned, is_too_long
from assistant.grammar.expect import NUMBER_WORDS, explain
from assistant.grammar.grammar import MOST_BIRDS, Names, fitted
from assistant.grammar.match import Failure, Matcher
from assistant.grammar.meaning import is_command, meanings


class NotUnderstood(ValueError):  # noqa: N818  (it is an outcome, and reads as one)
    """No command. `reason` is one clear line; `expected` names what could have come."""

    def __init__(self, reason: str, expected: tuple[str, ...] = ()) -> None:
        super().__init__(reason)
        self.reason = reason
        self.expected = expected


def parse(words: str, names: Names, *, scale: Scale = "F", open_sauces: bool = False) -> Command:
    """The command in `words`, spoken or typed ("bird 2 reads 118.5 F", "5 lb 8 oz").

    A number said without its scale is in `scale`; nothing is guessed from its size.
    Bird numbers up to 8 are read whatever tonight's are: refusing one that is not on
    the spit is the cook's decision. `open_sauces` takes any sauce name of one or two
    words after "gets". Raises NotUnderstood.
    """
    readings = all_readings(words, names, scale=scale, open_sauces=open_sauces)
    return readings[0]


def all_readings(
    words: str, names: Names, *, scale: Scale = "F", open_sauces: bool = False
) -> tuple[Command, ...]:
    """Every command the words can mean; one, for words the grammar makes."""
    if is_too_long(words):
        raise NotUnderstood(f"that is longer than any command ({LONGEST} characters)")
    tokens = cleaned(words)
    if not tokens:
        raise NotUnderstood("no words there")
    matcher = _matcher(names.sauces, scale)
    failure = Failure()
    found = _commands(matcher, tokens, failure)
    if not found and open_sauces:
        found = _with_open_sauce(matcher, tokens)
    if not found:
        reason, expected = explain(tokens, failure, scale)
        raise NotUnderstood(reason, expected)
    return found


def _commands(matcher: Matcher, tokens: tuple[str, ...], failure: Failure) -> tuple[Command, ...]:
    readings = matcher.readings("command", tokens, failure)
    return tuple(value for values in readings for value in values if is_command(value))


def _with_open_sauce(matcher: Matcher, tokens: tuple[str, ...]) -> tuple[Command, ...]:
    """Read the words with "plain" for what follows "gets", and put the name back."""
    for verb in ("gets", "takes"):
        if verb not in tokens:
            continue
        at = tokens.index(verb) + 1
        name = tokens[at:]
        if len(name) > 1 and name[-1] in ("sauce", "glaze"):
            name = name[:-1]
        if not 1 <= len(name) <= 2 or not all(_is_plain_word(part) for part in name):
            continue
        found = _commands(matcher, (*tokens[:at], "plain"), Failure())
        return tuple(
            BirdSauce(command.bird, " ".join(name))
            for command in found
            if isinstance(command, BirdSauce)
        )
    return ()


def _is_plain_word(word: str) -> bool:
    return word not in NUMBER_WORDS and word.replace("'", "").replace("-", "").isalpha()


@lru_cache(maxsize=32)
def _matcher(sauces: tuple[str, ...], scale: Scale) -> Matcher:
    return Matcher(fitted(Names(MOST_BIRDS, sauces), scale=scale), meanings(scale))
