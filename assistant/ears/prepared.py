"""A grammar in every form the listeners need: a cook's for tonight, or anybody's."""

import json
import random
from dataclasses import dataclass

from assistant.cook.commands import Scale
from assistant.ears.engine import Listening
from assistant.grammar import grammar as cook_grammar
from assistant.grammar.grammar import ADDRESS, Names
from assistant.grammar.jsgf import Grammar, Maybe, Ref, Sequence
from assistant.grammar.network import Network, network_of, read_network


@dataclass(frozen=True)
class Prepared:
    """One grammar in every form the listeners need."""

    listening: Listening
    network: Network
    """What the second listener may hear: it tells more forms apart than the first."""
    names: frozenset[str] = frozenset()
    """Words of tonight that no listener was taught."""


_TOO_MUCH_FOR_THE_FIRST = frozenset({"bare_temperature"})
"""Left to the second listener: "bird two one thirty" has PocketSphinx hear numbers and
birds that nobody said."""


def for_cook(names: Names, scale: Scale, address: str) -> Prepared:
    """Tonight's commands, each with or without the address word before it."""

    def network(without: frozenset[str] = frozenset()) -> Network:
        addressed = cook_grammar.fitted(
            names, scale=scale, lean=True, without=without, address=address
        )
        said = Sequence((Maybe(Ref("address")), Ref("command")))
        return network_of(Grammar("cook", {**addressed.rules, "said": said}, ("said",)))

    phrases = cook_grammar.phrases(names, address=address)
    spoken = dict(cook_grammar.pronunciations())
    first = Listening(network(_TOO_MUCH_FOR_THE_FIRST), spoken, phrases)
    named = {*names.sauces, *names.timers, *((address,) if address != ADDRESS else ())}
    return Prepared(first, network(), frozenset(" ".join(named).split()))


def for_anybody(text: str) -> Prepared:
    """Any JSGF text. Raises GrammarError for one that cannot be used."""
    network = read_network(text)
    chance = random.Random(1)  # noqa: S311 -- a repeatable sample, nothing secret
    phrases = json.dumps([network.random_sentence(chance) for _ in range(400)])
    return Prepared(Listening(network, {}, phrases), network)
