"""What recognised words mean: a sentence of the grammar, or a cook's own words in full."""

from dataclasses import replace

from assistant.cook.vocabulary.commands import BirdSauce
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

MOST_COST, A_FACT = 0.4, 0.25
"""What a free wording may leave unexplained (`Understood.cost`): no word that says something,
for it may be a misheard name of a bird; each further fact of the breath has its own price."""


def meant(words: str, names: Names, context: Context) -> Understood | None:
    """The facts that the words say, and what is left to ask about them; None where they say
    none, or leave words over."""
    try:
        return Understood((parse(words, names, scale=context.scale),), "accept")
    except NotUnderstood:
        pass
    found = understand(words, context)
    most = MOST_COST + A_FACT * max(0, len(found.facts) - 1)
    if found.outcome == "refuse" or found.cost > most:
        return None
    if any(_is_strange(fact, names) for fact in found.facts):
        return None
    return replace(found, cost=0.0)


def _is_strange(fact: Fact, names: Names) -> bool:
    """A sauce that is none of tonight's: more likely one of them, misheard."""
    return isinstance(fact, BirdSauce) and fact.sauce not in {"plain", *names.sauces}
