"""The command grammar, fitted to tonight: birds, sauces, scale and what may be said now."""

import json
import random
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache
from importlib import resources
from pathlib import Path

from assistant.cook.naming import WHY, claims
from assistant.cook.state import MOST_BIRDS
from assistant.cook.vocabulary.commands import Scale
from assistant.grammar import jsgf
from assistant.grammar.jsgf import (
    VOID,
    Choice,
    Grammar,
    Many,
    Maybe,
    Node,
    Ref,
    Sequence,
    Tag,
    Word,
)

ADDRESS = "turnspit"  # the address word unless the cook chose another
RARE = "rare_"  # rules that are read but not listened for

_NO_SAUCE = {"no", "no sauce", "sauce", "glaze"}
_NAME = re.compile(r"[a-z][a-z'-]*( [a-z][a-z'-]*){0,2}")


@dataclass(frozen=True, slots=True)
class Names:
    """Tonight's names: `birds` on the spit (1 to 8), `sauces` in lower case, and `timers`
    beside the usual ones.

    Raises ValueError naming what is wrong.
    """

    birds: int = MOST_BIRDS
    sauces: tuple[str, ...] = ()
    timers: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        if not 1 <= self.birds <= MOST_BIRDS:
            raise ValueError(f"{self.birds} birds: from 1 to {MOST_BIRDS} fit on the spit")
        for name in (*self.sauces, *self.timers):
            if claims(name):
                raise ValueError(f"{name!r}: {WHY}; choose another")
        for sauce in self.sauces:
            if not _NAME.fullmatch(sauce):
                raise ValueError(
                    f"sauce name {sauce!r}: write it as one to three words in small letters"
                )
            if sauce in _NO_SAUCE or sauce.removesuffix(" sauce") in set(self.sauces) - {sauce}:
                raise ValueError(
                    f"sauce name {sauce!r} would be taken for another; choose a new one"
                )
        for timer in self.timers:
            if not is_sayable(timer):
                raise ValueError(
                    f"timer name {timer!r}: write it as one to three words in small letters"
                )


def is_sayable(name: str) -> bool:
    """Whether a name is one to three words in small letters, as a grammar can hold."""
    return _NAME.fullmatch(name) is not None


@lru_cache(maxsize=1)
def source() -> Grammar:
    """The grammar file, read; nothing filled in."""
    packed = resources.files("assistant") / "_data" / "grammars" / "cook.gram"
    place = packed if packed.is_file() else Path(__file__).parents[2] / "grammars" / "cook.gram"
    return jsgf.read(place.read_text(encoding="utf-8"))


@lru_cache(maxsize=1)
def timer_names() -> frozenset[str]:
    """The names of timers the grammar knows without being told."""
    rule = source().rules["timer_name"]
    assert isinstance(rule, Choice)
    return frozenset(
        item.text
        for way in rule.items
        if isinstance(way, Sequence)
        for item in way.items
        if isinstance(item, Tag)
    )


def command_names() -> tuple[str, ...]:
    """Names of all commands, in the order of the grammar."""
    return tuple(jsgf.refs(source().rules["command"]))


@lru_cache(maxsize=256)
def fitted(
    names: Names,
    *,
    scale: Scale = "F",
    lean: bool = False,
    only: frozenset[str] | None = None,
    without: frozenset[str] = frozenset(),
    address: str | None = None,
) -> Grammar:
    """The grammar for now.

    `lean` is for recognisers: numbers that meat, grill and water can have, and no
    rare forms. `only` keeps these commands; `without` drops these rules (say,
    {"spelled_tail"}); `address` makes the words that must open a sentence.
    """
    rules = dict(source().rules)
    rules |= _tonight(names, scale, lean=lean)
    if address is not None:
        rules["address"] = _phrase(address)
    dropped = set(without)
    if lean:
        dropped |= {name for name in rules if name.startswith(RARE)}
    if only is not None:
        dropped |= set(command_names()) - only
    unknown = dropped - rules.keys()
    if unknown or (only is not None and not only <= set(command_names())):
        raise ValueError(f"no such rules: {', '.join(sorted(unknown or set(only or ())))}")
    root = "command" if address is None else "addressed"
    return _pruned(Grammar("cook", rules, (root,)), dropped)


def _tonight(names: Names, scale: Scale, *, lean: bool) -> dict[str, Node]:
    """The rules that are filled in."""
    numbers = source().rules["bird_number"]
    assert isinstance(numbers, Choice)
    sauces = dict.fromkeys(("plain", *names.sauces))
    usual = source().rules["timer_name"]
    assert isinstance(usual, Choice)
    timers = [Sequence((_phrase(name), Tag(name))) for name in names.timers]
    within = "in_f" if scale == "F" else "in_c"
    meat, fire = ("meat", "fire") if lean else ("any", "any")
    return {
        "bird_number": Choice(numbers.items[: names.birds]),
        "sauce": Choice(tuple(Sequence((_phrase(sauce), Tag(sauce))) for sauce in sauces)),
        "timer_name": Choice((*usual.items, *timers)),
        "bird_temperature": Ref(f"{meat}_{within}"),
        "grill_temperature": Ref(f"{fire}_{within}"),
        "answer_temperature": Ref(f"any_{within}"),
        "water_temperature": Ref(f"water_{within}"),
    }


def _phrase(text: str) -> Node:
    words = tuple(Word(word) for word in text.split())
    return words[0] if len(words) == 1 else Sequence(words)


def _pruned(grammar: Grammar, dropped: Iterable[str]) -> Grammar:
    """The grammar without these rules and without what cannot be said lacking them."""
    gone = set(dropped)
    while True:
        rules = {
            name: _without(node, gone) for name, node in grammar.rules.items() if name not in gone
        }
        empty = {name for name, node in rules.items() if node == VOID}
        if not empty:
            kept = Grammar(grammar.name, rules, grammar.public)
            reached = jsgf.reachable(kept, kept.public)
            return Grammar(kept.name, {name: rules[name] for name in reached}, kept.public)
        if empty & set(grammar.public):
            raise ValueError("nothing is left to say")
        gone |= empty


def _without(node: Node, gone: set[str]) -> Node:
    """The node with references to `gone` rules made unsayable, and tidied."""
    match node:
        case Ref(name):
            return VOID if name in gone else node
        case Sequence(items):
            kept = tuple(_without(item, gone) for item in items)
            return VOID if VOID in kept else Sequence(kept)
        case Choice(items, weights):
            pairs = [(_without(item, gone), place) for place, item in enumerate(items)]
            pairs = [(item, place) for item, place in pairs if item != VOID]
            if len(pairs) == 1:
                return pairs[0][0]
            some = tuple(weights[place] for _, place in pairs) if weights else ()
            return Choice(tuple(item for item, _ in pairs), some)
        case Maybe(item):
            inner = _without(item, gone)
            return jsgf.NULL if inner == VOID else Maybe(inner)
        case Many(item, least):
            inner = _without(item, gone)
            return inner if inner == VOID and least else Many(inner, least)
    return node


def vocabulary(names: Names, *, address: str | None = None) -> frozenset[str]:
    """Every word of tonight's grammar, rare forms included."""
    return jsgf.words(fitted(names, address=address))


def phrases(names: Names, *, lean: bool = True, address: str | None = None) -> str:
    """A JSON list of phrases for Vosk, which recombines them by word pairs: the
    same words as the grammar, in the company they keep. "[unk]" is left to the ears.
    """
    grammar = fitted(names, lean=lean, address=address)
    found: dict[str, None] = {}
    for name in grammar.rules:
        rng = random.Random(name)  # noqa: S311  (a repeatable sample, nothing secret)
        for _ in range(24):
            found[" ".join(sample(rng, grammar, name))] = None
    found |= dict.fromkeys(sorted(jsgf.words(grammar)))
    found.pop("", None)
    return json.dumps(list(found))


def sample(rng: random.Random, grammar: Grammar, rule: str) -> list[str]:
    """Words of one random sentence of `rule`; alternatives by weight or evenly."""
    words: list[str] = []
    _sample(rng, grammar, Ref(rule), words)
    return words


def _sample(rng: random.Random, grammar: Grammar, node: Node, into: list[str]) -> None:
    match node:
        case Word(text):
            into.append(text)
        case Ref(name):
            _sample(rng, grammar, grammar.rules[name], into)
        case Sequence(items):
            for item in items:
                _sample(rng, grammar, item, into)
        case Choice(items, weights):
            (chosen,) = rng.choices(items, weights or None)
            _sample(rng, grammar, chosen, into)
        case Maybe(item):
            if rng.random() < 0.5:
                _sample(rng, grammar, item, into)
        case Many(item, least):
            for _ in range(least + int(rng.expovariate(1.0))):
                _sample(rng, grammar, item, into)


def random_sentence(
    rng: random.Random,
    names: Names,
    *,
    command: str | None = None,
    scale: Scale = "F",
    lean: bool = False,
    without: frozenset[str] = frozenset(),
) -> str:
    """A random sentence, of `command` (a command's name) or of any command, evenly."""
    grammar = fitted(names, scale=scale, lean=lean, without=without)
    return " ".join(sample(rng, grammar, command or "command"))


def strip_address(words: str, address: str = ADDRESS) -> str | None:
    """The words after the address; None where it is missing."""
    if words == address:
        return ""
    rest = words.removeprefix(address + " ")
    return None if rest == words else rest
