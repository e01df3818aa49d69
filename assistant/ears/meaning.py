"""The command in words that were heard: by the grammar, else as people say it."""

from assistant.cook.vocabulary.commands import BirdSauce, Command, Scale
from assistant.grammar.free.context import Context
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse

MOST_COST = 0.5
"""What a free wording may leave unexplained (`Understood.cost`): no word that says something,
for it may be a misheard name of a bird."""


def meant(words: str, names: Names, scale: Scale) -> Command | None:
    """The one command that the words say in full. None for none, for several, and for one
    with something left to ask: those are understood where the evening is known."""
    try:
        return parse(words, names, scale=scale)
    except NotUnderstood:
        pass
    found = understand(words, Context(names.birds, names=names.sauces, scale=scale))
    if found.outcome != "accept" or len(found.facts) != 1 or found.cost > MOST_COST:
        return None
    (fact,) = found.facts
    if not isinstance(fact, Command) or _is_strange(fact, names):
        return None
    return fact


def _is_strange(fact: Command, names: Names) -> bool:
    """A sauce that is none of tonight's: more likely one of them, misheard."""
    return isinstance(fact, BirdSauce) and fact.sauce not in {"plain", *names.sauces}
