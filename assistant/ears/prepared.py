"""A grammar in every form the listeners need: a cook's for tonight, or anybody's."""

import json
import random
from dataclasses import dataclass

from assistant.cook.commands import Scale
from assistant.ears.engine import Listening
from assistant.ears.network import Network, network_of, read_network
from assistant.ears.voice_fit import kept
from assistant.language import grammar as cook_grammar
from assistant.language.grammar import Names
from assistant.language.jsgf import Grammar, Maybe, Ref, Sequence


@dataclass(frozen=True)
class Prepared:
    """One grammar in every form the listeners need."""

    listening: Listening

    @property
    def network(self) -> Network:
        """The grammar as a network of words."""
        return self.listening.network


def for_cook(names: Names, scale: Scale, address: str) -> Prepared:
    """Tonight's commands, each with or without the address word before it."""
    addressed = cook_grammar.fitted(names, scale=scale, lean=True, address=address)
    said = Sequence((Maybe(Ref("address")), Ref("command")))
    both = Grammar("cook", {**addressed.rules, "said": said}, ("said",))
    phrases = cook_grammar.phrases(names, address=address)
    voice = kept()
    spoken = dict(cook_grammar.pronunciations())
    return Prepared(Listening(network_of(both), spoken, phrases, warp=voice.warp if voice else 1.0))


def for_anybody(text: str) -> Prepared:
    """Any JSGF text. Raises GrammarError for one that cannot be used."""
    network = read_network(text)
    chance = random.Random(1)  # noqa: S311 -- a repeatable sample, nothing secret
    phrases = json.dumps([network.random_sentence(chance) for _ in range(400)])
    return Prepared(Listening(network, {}, phrases))
