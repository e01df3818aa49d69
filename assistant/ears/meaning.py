"""What recognised words mean: a sentence of the grammar, or a cook's own words in full."""

import re
from collections.abc import Iterator
from dataclasses import replace

from assistant.cook.vocabulary.commands import BirdSauce
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

MOST_COST, SURE_COST, A_FACT = 0.4, 1.3, 0.25
"""What a free wording may leave unexplained (`Understood.cost`): no word that says something,
for it may be a misheard name of a bird, unless the words were heard surely; each further fact of
the breath has its own price."""
_PLURAL = re.compile(r"(?<=[^s'])s\b")


def meant(
    words: str, names: Names, context: Context, *, is_sure: bool = False
) -> Understood | None:
    """The facts that the words say, and what is left to ask about them; None where they say
    none, or leave words over. `is_sure`: these very words were heard, and hardly others."""
    try:
        return Understood((parse(words, names, scale=context.scale),), "accept")
    except NotUnderstood:
        pass
    spelt = (_understood(one, names, context, is_sure=is_sure) for one in _spelt(words))
    return next((found for found in spelt if found is not None), None)


def _spelt(words: str) -> Iterator[str]:
    """The words, and the same with one plural as what sounds the same: "birds" as "bird's"."""
    yield words
    for plural in _PLURAL.finditer(words):
        yield f"{words[: plural.start()]}'s{words[plural.end() :]}"


def _understood(words: str, names: Names, context: Context, *, is_sure: bool) -> Understood | None:
    found = understand(words, context)
    most = (SURE_COST if is_sure else MOST_COST) + A_FACT * max(0, len(found.facts) - 1)
    if found.outcome == "refuse" or found.cost > most:
        return None
    if any(_is_strange(fact, names) for fact in found.facts):
        return None
    return replace(found, cost=0.0)


def _is_strange(fact: Fact, names: Names) -> bool:
    """A sauce that is none of tonight's: more likely one of them, misheard."""
    return isinstance(fact, BirdSauce) and fact.sauce not in {"plain", *names.sauces}
