"""Match words against a grammar and gather what its tags and slots mean.

Every way a sentence can be read is followed, with results shared between rules
(a packrat with sets of ends), so that work grows with the number of words and
ambiguity is seen, not hidden.
"""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache

from assistant.grammar.jsgf import (
    Choice,
    Grammar,
    Many,
    Maybe,
    Node,
    Ref,
    Sequence,
    Tag,
    Word,
    children,
)

Values = tuple[object, ...]  # tags' numbers and words, and the slots of rules below
Collapse = Callable[[Values], object]
Ends = tuple[tuple[int, Values], ...]


@dataclass(frozen=True, slots=True)
class Slot:
    """A named value, the meaning of a rule."""

    name: str
    value: object


@dataclass(slots=True)
class Failure:
    """What was looked for: terms (words, or <rule> names) by position."""

    looked_for: dict[int, dict[str, None]] = field(default_factory=dict)

    def note(self, at: int, *terms: str) -> None:
        """These terms were looked for at position `at`."""
        self.looked_for.setdefault(at, {}).update(dict.fromkeys(terms))


class Matcher:
    """A grammar made ready for matching.

    `meanings` gives, by rule name, what a rule makes of the values below it.
    Raises ValueError when the grammar is recursive.
    """

    def __init__(self, grammar: Grammar, meanings: Mapping[str, Collapse]) -> None:
        self._rules = {name: (node, meanings.get(name)) for name, node in grammar.rules.items()}
        self._firsts: dict[int, tuple[frozenset[str], bool]] = {}
        self._terms: dict[int, tuple[str, ...]] = {}
        self._kept: list[Node] = []  # keeps ids in _firsts alive
        for name in grammar.rules:
            self._first(Ref(name), ())

    def readings(self, rule: str, words: tuple[str, ...], failure: Failure) -> list[Values]:
        """Meanings of all readings of the whole sentence as `rule`; empty when none."""
        run = _Run(self, words, failure)
        ends = run.rule(rule, 0)
        for end, _ in ends:
            if end < len(words):
                failure.note(end, "end")
        return list(dict.fromkeys(values for end, values in ends if end == len(words)))

    def rule(self, name: str) -> tuple[Node, Collapse | None]:
        """The node of a rule and what it means."""
        return self._rules[name]

    def can_start(self, node: Node, word: str | None) -> bool:
        """Whether `node` may start with `word` (None: the end), or be empty."""
        first, empty = self.first(node)
        return empty or word in first

    def first(self, node: Node) -> tuple[frozenset[str], bool]:
        """Words the node may start with, and whether it may be empty."""
        return self._firsts[id(node)]

    def terms(self, node: Node) -> tuple[str, ...]:
        """What the node may start with: rules that have a meaning by name, else words."""
        known = self._terms.get(id(node))
        if known is None:
            known = self._terms[id(node)] = tuple(dict.fromkeys(self._find_terms(node)))
        return known

    def _find_terms(self, node: Node) -> Iterator[str]:
        match node:
            case Word(text):
                yield text
            case Ref(name):
                below, meaning = self._rules[name]
                yield from (f"<{name}>",) if meaning else self._find_terms(below)
            case Sequence(items):
                for item in items:
                    yield from self._find_terms(item)
                    if not self.first(item)[1]:
                        break
            case _:
                for item in children(node):
                    yield from self._find_terms(item)

    def _first(self, node: Node, above: tuple[str, ...]) -> tuple[frozenset[str], bool]:
        known = self._firsts.get(id(node))
        if known is None:
            known = self._find_first(node, above)
            self._firsts[id(node)] = known
            self._kept.append(node)
        return known

    def _find_first(self, node: Node, above: tuple[str, ...]) -> tuple[frozenset[str], bool]:
        match node:
            case Word(text):
                return frozenset((text,)), False
            case Tag():
                return frozenset(), True
            case Ref(name):
                if name in above:
                    raise ValueError(f"rule <{name}> refers to itself")
                return self._first(self._rules[name][0], (*above, name))
            case Maybe(item):
                return self._first(item, above)[0], True
            case Many(item, least):
                first, empty = self._first(item, above)
                return first, empty or least == 0
            case Choice(items):
                found = [self._first(item, above) for item in items]
                return frozenset().union(*(one for one, _ in found)), any(e for _, e in found)
            case Sequence(items):
                words: frozenset[str] = frozenset()
                empty = True
                for item in items:
                    first, item_empty = self._first(item, above)
                    if empty:
                        words |= first
                    empty = empty and item_empty
                return words, empty


class _Run:
    """One sentence being matched; results of rules are shared by place."""

    def __init__(self, matcher: Matcher, words: tuple[str, ...], failure: Failure) -> None:
        self._matcher = matcher
        self._words = words
        self._failure = failure
        self._known: dict[tuple[str, int], Ends] = {}

    def rule(self, name: str, at: int) -> Ends:
        ends = self._known.get((name, at))
        if ends is None:
            node, collapse = self._matcher.rule(name)
            ends = self._ends(node, at)
            if collapse is not None:
                self._failure.note(at, f"<{name}>")
                ends = tuple(dict.fromkeys((end, (collapse(values),)) for end, values in ends))
            self._known[name, at] = ends
        return ends

    def _ends(self, node: Node, at: int) -> Ends:
        word = self._words[at] if at < len(self._words) else None
        if not self._matcher.can_start(node, word):
            self._note(node, at)
            return ()
        match node:
            case Word():
                return ((at + 1, ()),)
            case Tag(text):
                return ((at, (_tag_value(text),)),)
            case Ref(name):
                return self.rule(name, at)
            case Choice(items):
                return tuple(dict.fromkeys(end for item in items for end in self._ends(item, at)))
            case Maybe(item):
                return tuple(dict.fromkeys((*self._ends(item, at), (at, ()))))
            case Sequence(items):
                return self._sequence(items, ((at, ()),))
            case Many(item, least):
                return self._many(item, at, least)

    def _sequence(self, items: tuple[Node, ...], ends: Ends) -> Ends:
        for item in items:
            ends = tuple(
                dict.fromkeys(
                    (after, (*before, *values))
                    for end, before in ends
                    for after, values in self._ends(item, end)
                )
            )
        return ends

    def _many(self, item: Node, at: int, least: int) -> Ends:
        found: dict[tuple[int, Values], None] = {}
        fresh: Ends = ((at, ()),)
        if least == 0:
            found[at, ()] = None
        while fresh:
            grown = [end for end in self._sequence((item,), fresh) if end not in found]
            found |= dict.fromkeys(grown)
            fresh = tuple(end for end in grown if end[0] < len(self._words))
        return tuple(found)

    def _note(self, node: Node, at: int) -> None:
        self._failure.note(at, *self._matcher.terms(node))


@lru_cache(maxsize=1024)
def _tag_value(text: str) -> object:
    """A number ("0.5", "1/3") or the text itself."""
    top, _, bottom = text.partition("/")
    try:
        return float(top) / float(bottom or 1)
    except ValueError:
        return text
