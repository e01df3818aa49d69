"""A grammar in every form the listeners need: a cook's for tonight, or anybody's."""

import json
import random
from collections.abc import Mapping
from dataclasses import dataclass

from assistant.cook.commands import Scale
from assistant.ears.engine import Listening
from assistant.ears.network import Network, network_of, read_network
from assistant.language import grammar as cook_grammar
from assistant.language.grammar import Names
from assistant.language.jsgf import Grammar, Maybe, Ref, Sequence

_PROMPT_SENTENCES, _PROMPT_WORDS = 3, 60
_COOK_STYLE = (
    "bird two reads one thirty bird one thigh one forty five probe reads one hundred and "
    "eighteen on bird three grill is three seventy bird three gets {sauce} added twelve "
    "briquettes lid off remind me in ten minutes how long for bird two sauced bird one "
    "dinner at six thirty"
)
"""What the second listener is told was said before: small words, numbers spelled. Chosen
among seven by the commands it lifted into its candidates at 10 dB (26 to 28 of 30)."""


@dataclass(frozen=True)
class Prepared:
    """One grammar in every form the listeners need."""

    listening: Listening
    prompt: str

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
    prompt = _COOK_STYLE.format(sauce=next(iter(names.sauces), "plain"))
    return _prepared(network_of(both), phrases, cook_grammar.pronunciations(), prompt)


def for_anybody(text: str) -> Prepared:
    """Any JSGF text. Raises GrammarError for one that cannot be used."""
    network = read_network(text)
    chance = random.Random(1)  # noqa: S311 -- a repeatable sample, nothing secret
    phrases = json.dumps([network.random_sentence(chance) for _ in range(400)])
    said = [network.random_sentence(chance) for _ in range(_PROMPT_SENTENCES)]
    prompt = " ".join(" ".join(said).split()[:_PROMPT_WORDS])
    return _prepared(network, phrases, {}, prompt)


def _prepared(network: Network, phrases: str, given: Mapping[str, str], prompt: str) -> Prepared:
    return Prepared(Listening(network, dict(given), phrases), prompt)
