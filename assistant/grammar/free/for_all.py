"""The sauce of every bird in one breath: "both get butter", "no sauce on either"."""

import re

from assistant.cook.rules.sauces import SWEET, UNSWEET
from assistant.cook.vocabulary.commands import BirdSauce
from assistant.grammar.free.context import Context
from assistant.grammar.free.weighed import NO_SAUCE
from assistant.grammar.open_names import is_plain_word

_ALL = re.compile(
    r"(?:both|all|they|everyone)(?: of them)?(?: (?:the )?birds)?(?: (?:all|both))? "
    r"(?:are getting|gets?|takes?|stays?) (?:the |a |some )?(?P<name>\w+(?: \w+)?)"
)
_NONE = re.compile(
    r"no (?:sauce|glaze) (?:on|for) (?:either|both|any|all)(?: of them| birds?| one)*|"
    r"neither(?: one| bird| of them)* (?:gets?|takes?|has) (?:any |a )?(?:sauce|glaze)"
)
_PLAIN = {"plain", "nothing", "no sauce", "no glaze"}


def sauces(text: str, context: Context) -> tuple[BirdSauce, ...]:
    """The sauce of every bird tonight; () where the words tell none, or one nobody knows."""
    found = _ALL.fullmatch(text)
    name = "plain" if _NONE.fullmatch(text) else _name(found["name"]) if found else None
    if name is None or (found is not None and not _is_known(name, found["name"], context)):
        return ()
    return tuple(BirdSauce(number, name) for number in range(1, context.birds + 1))


def _name(words: str) -> str | None:
    if words in _PLAIN:
        return "plain"
    name = re.sub(r" (?:sauce|glaze)$", "", words)
    parts = name.split()
    return None if NO_SAUCE & {*parts} or not all(map(is_plain_word, parts)) else name


def _is_known(name: str, words: str, context: Context) -> bool:
    """Whether it is surely a sauce: "both get hot" tells none."""
    tonight = {*context.names, *context.sauces.values(), "plain"}
    return name in tonight or name != words or bool(set(name.split()) & (SWEET | UNSWEET))
