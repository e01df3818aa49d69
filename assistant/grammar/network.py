"""A grammar as a network of words: what may be said next, from where.

The network is free of empty steps and deterministic, so a sentence has one path
through it: Whisper's search walks it, and any list of words can be
tried against it. Rules that call themselves are refused: a command is finite.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cache

from assistant.grammar import jsgf
from assistant.grammar.jsgf import Choice, Grammar, Many, Maybe, Node, Ref, Sequence, Tag, Word

_DEEPEST_RULE = 60
# Our own grammar takes a quarter of the first, a tenth of the second, a seventh of the third.
_MOST_STATES = 600_000  # before any are merged
_MOST_SETS = 25_000  # of states, once the network is deterministic
_MOST_WORK = 10_000_000  # steps
_TOO_MUCH = "the grammar is too large to listen with: it makes too many different sentences"

Move = tuple[str | None, int]


class GrammarError(ValueError):
    """A grammar that cannot be listened with; the message says what is wrong."""


@dataclass
class _Budget:
    """What may still be done for one grammar: little text can promise a great deal."""

    left: int = _MOST_WORK

    def spend(self, steps: int) -> None:
        """Raises GrammarError where it is used up."""
        self.left -= steps
        if self.left < 0:
            raise GrammarError(_TOO_MUCH)


@dataclass(frozen=True)
class Network:
    """`arcs[state]` maps a word to the next state; state 0 is the start."""

    arcs: tuple[dict[str, int], ...]
    finals: frozenset[int]

    def accepts(self, words: str) -> bool:
        """Whether `words` is one whole sentence of the grammar."""
        state: int | None = 0
        for word in words.split():
            state = self.arcs[state].get(word) if state is not None else None
        return state in self.finals

    def words(self) -> frozenset[str]:
        """Every word that occurs in some sentence."""
        return frozenset(word for arcs in self.arcs for word in arcs)

    def random_sentence(self, chance: random.Random) -> str:
        """One sentence, each next word being equally likely; loops end by chance."""
        said: list[str] = []
        state = 0
        while True:
            choices = list(self.arcs[state])
            if state in self.finals and (not choices or chance.random() < 0.5):
                return " ".join(said)
            word = chance.choice(choices)
            said.append(word)
            state = self.arcs[state][word]


def read_network(text: str) -> Network:
    """The network of a JSGF text. Raises GrammarError for one that cannot be used."""
    try:
        grammar = jsgf.read(text)
    except ValueError as error:
        raise GrammarError(f"the grammar cannot be read: {error}") from error
    return network_of(grammar)


def network_of(grammar: Grammar) -> Network:
    """The network of all public rules. Raises GrammarError."""
    if not grammar.public:
        raise GrammarError("the grammar has no public rule")
    builder = _Builder(grammar)
    entry, leave = builder.build(Choice(tuple(Ref(name) for name in grammar.public)))
    return _determined(builder.moves, entry, leave)


@dataclass
class _Builder:
    """Thompson's construction, one fragment (entry, exit) per construct."""

    grammar: Grammar
    moves: list[list[Move]] = field(default_factory=list)
    calls: list[str] = field(default_factory=list)

    def build(self, node: Node) -> tuple[int, int]:
        """Add the fragment of `node`; the states it begins and ends in."""
        if isinstance(node, Ref):
            return self._rule(node.name)
        entry, leave = self._state(), self._state()
        match node:
            case Word(text):
                self._link(entry, leave, text.lower())  # as dictionaries spell
            case Tag():
                self._link(entry, leave)
            case Sequence(items):
                last = entry
                for item in items:
                    first, end = self.build(item)
                    self._link(last, first)
                    last = end
                self._link(last, leave)
            case Choice(items):
                for item in items:
                    self._around(entry, self.build(item), leave)
            case Maybe(item):
                self._around(entry, self.build(item), leave)
                self._link(entry, leave)
            case Many(item, least):
                first, end = self.build(item)
                self._around(entry, (first, end), leave)
                self._link(end, first)
                if not least:
                    self._link(entry, leave)
        return entry, leave

    def _state(self) -> int:
        if len(self.moves) >= _MOST_STATES:
            raise GrammarError(_TOO_MUCH)
        self.moves.append([])
        return len(self.moves) - 1

    def _link(self, source: int, target: int, word: str | None = None) -> None:
        self.moves[source].append((word, target))

    def _around(self, entry: int, inner: tuple[int, int], leave: int) -> None:
        self._link(entry, inner[0])
        self._link(inner[1], leave)

    def _rule(self, name: str) -> tuple[int, int]:
        if name not in self.grammar.rules:
            raise GrammarError(f"the rule <{name}> is not defined")
        if name in self.calls or len(self.calls) > _DEEPEST_RULE:
            raise GrammarError(f"the rule <{name}> calls itself, which no spoken command may")
        self.calls.append(name)
        fragment = self.build(self.grammar.rules[name])
        self.calls.pop()
        return fragment


def _determined(moves: list[list[Move]], entry: int, leave: int) -> Network:
    """Subset construction: sets of reachable states become single states."""
    budget = _Budget()
    spread = _silent_reach(moves, leave, budget)
    start = spread(entry)
    numbers, order, arcs = {start: 0}, [start], list[dict[str, int]]()
    while len(arcs) < len(order):
        reached: dict[str, set[int]] = {}
        for state in order[len(arcs)]:
            for word, target in moves[state]:
                if word is not None:
                    found = spread(target)
                    budget.spend(1 + len(found))
                    reached.setdefault(word, set()).update(found)
        row: dict[str, int] = {}
        for word, targets in reached.items():
            subset = frozenset(targets)
            if subset not in numbers:
                if len(order) >= _MOST_SETS:
                    raise GrammarError(_TOO_MUCH)
                numbers[subset] = len(order)
                order.append(subset)
            row[word] = numbers[subset]
        arcs.append(row)
    finals = frozenset(numbers[subset] for subset in order if leave in subset)
    return _merged(Network(tuple(arcs), finals), budget)


def _merged(network: Network, budget: _Budget) -> Network:
    """The same network with states of the same future made one (Moore's refinement)."""
    kinds = [int(state in network.finals) for state in range(len(network.arcs))]
    while True:
        seen: dict[tuple[int, frozenset[tuple[str, int]]], int] = {}
        refined = []
        for state, row in enumerate(network.arcs):
            budget.spend(1 + len(row))
            future = frozenset((word, kinds[target]) for word, target in row.items())
            refined.append(seen.setdefault((kinds[state], future), len(seen)))
        if len(seen) == len(set(kinds)):
            break
        kinds = refined
    arcs: list[dict[str, int]] = [{} for _ in seen]
    for state, row in enumerate(network.arcs):
        arcs[refined[state]] = {word: refined[target] for word, target in row.items()}
    return Network(tuple(arcs), frozenset(refined[state] for state in network.finals))


def _silent_reach(
    moves: list[list[Move]], leave: int, budget: _Budget
) -> Callable[[int], frozenset[int]]:
    """State -> the states reached from it without a word. Only states that read a word,
    or end, are kept, since only they tell sets apart."""
    silent = [[target for word, target in row if word is None] for row in moves]
    telling = [len(steps) < len(row) for steps, row in zip(silent, moves, strict=True)]
    telling[leave] = True

    @cache
    def reach(state: int) -> frozenset[int]:
        seen, waiting = {state}, [state]
        while waiting:
            for target in silent[waiting.pop()]:
                if target not in seen:
                    seen.add(target)
                    waiting.append(target)
        budget.spend(len(seen))
        return frozenset(found for found in seen if telling[found])

    return reach
