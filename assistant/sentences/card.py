"""The phrase card: one page of what can be said, written out from the grammar."""

from collections.abc import Iterator
from itertools import islice
from typing import get_args

from assistant.cook.vocabulary.commands import Command
from assistant.grammar.grammar import ADDRESS, Names, fitted
from assistant.grammar.jsgf import Choice, Grammar, Many, Maybe, Node, Ref, Sequence, Word

WIDTH = 78
# In the order an evening needs them; each command names its own (`CARD`).
PURPOSES = (
    "Before the fire", "Readings and birds", "Fire", "Questions", "Timers and answers",
    "Trouble", "The program",
)  # fmt: skip
_SAMPLES = {
    "bird": "bird two", "bird_temperature": "one thirty", "grill_temperature": "three seventy",
    "answer_temperature": "one thirteen", "water_temperature": "two ten", "sauce": "harissa",
    "weight": "five pounds eight ounces", "fuel_count": "twelve", "fuel_kind": "briquettes",
    "opening": "two thirds", "clock": "six thirty", "day": "tomorrow", "duration": "ten minutes",
    "timer_name": "rice", "which_vent": "bottom vent",
}  # fmt: skip
_NAMES = Names(sauces=("harissa",))
_SOME, _ALL = 2, 20  # ways shown of a command; of those in full
_IN_FULL = {"bird_reading", "trouble", "trouble_over"}


def phrase_card(address: str = ADDRESS) -> str:
    """The card in plain text; raises ValueError if a command has no purpose on it."""
    grammar = fitted(_NAMES, lean=True)
    placed = [kind.NAME for kind in get_args(Command) if kind.CARD in PURPOSES]
    commands = _command_rules(grammar)
    if set(placed) != commands:
        raise ValueError(f"on the card or in the grammar only: {sorted(set(placed) ^ commands)}")
    lines = [
        f'WHAT TO SAY  Begin with "{address}", not for an answer. Typed, other words work.',
        "Words in [ ] may be left out; / parts other ways, ; other things. Numbers:",
        "one thirty, a hundred and thirty, one three zero, one eighteen and a half.",
        'What was done before it is told: "birds went on ten minutes ago".',
    ]
    for purpose in PURPOSES:
        names = [kind.NAME for kind in get_args(Command) if purpose == kind.CARD]
        lines += ["", purpose.upper(), *_packed([_entry(grammar, name) for name in names])]
    return "\n".join(lines) + "\n"


def _entry(grammar: Grammar, name: str) -> list[str]:
    """Lines for one command: ways joined while they fit, all of them for some."""
    texts = list(islice(ways(grammar, name), _ALL if name in _IN_FULL else _SOME))
    lines = texts[:1]
    for text in texts[1:]:
        longer = f"{lines[-1]} / {text}"
        if len(longer) <= WIDTH:
            lines[-1] = longer
        elif name in _IN_FULL:
            lines.append(text)
    return lines


def _packed(entries: list[list[str]]) -> list[str]:
    """The entries' lines, short ones side by side."""
    lines: list[str] = []
    for text in (text for entry in entries for text in entry):
        beside = f"{lines[-1]};  {text}" if lines else ""
        if lines and len(beside) <= WIDTH:
            lines[-1] = beside
        else:
            lines.append(f"  {text}")
    return lines


def _command_rules(grammar: Grammar) -> set[str]:
    root = grammar.rules["command"]
    assert isinstance(root, Choice)
    return {item.name for item in root.items if isinstance(item, Ref)}


def ways(grammar: Grammar, rule: str) -> Iterator[str]:
    """Each alternative of a rule, with a sample for every slot and optional words in
    square brackets; inside, the first of several words stands for all."""
    node = grammar.rules[rule]
    for way in node.items if isinstance(node, Choice) else (node,):
        if isinstance(way, Ref) and way.name not in _SAMPLES:
            yield from ways(grammar, way.name)
        else:
            yield from _spread(grammar, way)


def _spread(grammar: Grammar, way: Node) -> Iterator[str]:
    """A way, once for each alternative of a first part that is itself a list."""
    if isinstance(way, Sequence) and way.items:
        first, *rest = way.items
        inner = grammar.rules[first.name] if isinstance(first, Ref) else None
        if isinstance(first, Ref) and first.name not in _SAMPLES and isinstance(inner, Choice):
            for item in inner.items:
                yield _shown(grammar, Sequence((item, *rest)))
            return
    yield _shown(grammar, way)


def _shown(grammar: Grammar, node: Node) -> str:
    match node:
        case Word(text):
            return text
        case Ref(name):
            return _SAMPLES.get(name) or _shown(grammar, grammar.rules[name])
        case Sequence(items):
            return " ".join(part for item in items if (part := _shown(grammar, item)))
        case Choice(items):
            return _shown(grammar, items[0])
        case Maybe(Ref("earlier" | "ago")):
            return ""  # said once, at the head
        case Maybe(item):
            inner = _shown(grammar, item).replace("[", "").replace("]", "")
            return f"[{inner}]" if inner else ""
        case Many(item):
            return _shown(grammar, item)
    return ""
