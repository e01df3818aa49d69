"""A grammar in the forms the recognisers need: a cook's for tonight, or anybody's."""

import json
import random
from dataclasses import dataclass

from assistant.cook.vocabulary.commands import Scale
from assistant.grammar import grammar as cook_grammar
from assistant.grammar.grammar import Names
from assistant.grammar.jsgf import Grammar, Maybe, Ref, Sequence
from assistant.grammar.network import Network, network_of, read_network


@dataclass(frozen=True)
class Prepared:
    """What to listen for: the grammar's network, and as a JSON list of phrases for Vosk.
    `names`: words of tonight that no recogniser was taught. `is_open`: what is meant may be
    said in other words too."""

    network: Network
    phrases: str
    names: frozenset[str] = frozenset()
    is_open: bool = False
    address: str = ""
    """The word that opens a sentence, "" where there is none."""


def for_cook(names: Names, scale: Scale, address: str) -> Prepared:
    """Tonight's commands, each with or without the address word before it."""
    addressed = cook_grammar.fitted(names, scale=scale, lean=True, address=address)
    said = Sequence((Maybe(Ref("address")), Ref("command")))
    network = network_of(Grammar("cook", {**addressed.rules, "said": said}, ("said",)))
    named = {*names.sauces, *names.timers, address}
    return Prepared(
        network,
        cook_grammar.phrases(names, address=address),
        frozenset(" ".join(named).split()),
        is_open=True,
        address=address,
    )


def for_anybody(text: str) -> Prepared:
    """Any JSGF text. Raises GrammarError for one that cannot be used."""
    network = read_network(text)
    chance = random.Random(1)  # noqa: S311 -- a repeatable sample, nothing secret
    phrases = json.dumps([network.random_sentence(chance) for _ in range(400)])
    return Prepared(network, phrases)
