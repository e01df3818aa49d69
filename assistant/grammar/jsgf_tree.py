"""A grammar as a tree: its nodes, walking them, and writing them as JSGF text."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Word:
    """One word, as written."""

    text: str


@dataclass(frozen=True, slots=True)
class Tag:
    """What stands between braces; matches nothing."""

    text: str


@dataclass(frozen=True, slots=True)
class Ref:
    """A reference to the rule `name` (without angle brackets)."""

    name: str


@dataclass(frozen=True, slots=True)
class Sequence:
    """One after the other."""

    items: tuple["Node", ...]


@dataclass(frozen=True, slots=True)
class Choice:
    """Alternatives; `weights` is empty or as long as `items`."""

    items: tuple["Node", ...]
    weights: tuple[float, ...] = ()


@dataclass(frozen=True, slots=True)
class Maybe:
    """`item` or nothing."""

    item: "Node"


@dataclass(frozen=True, slots=True)
class Many:
    """`item` at least `least` (0 or 1) times."""

    item: "Node"
    least: int


Node = Word | Tag | Ref | Sequence | Choice | Maybe | Many

NULL = Sequence(())  # matches the empty sentence
VOID = Choice(())  # matches nothing at all


@dataclass(frozen=True, slots=True)
class Grammar:
    """Rules by name; `public` names those a sentence may begin from, first one first."""

    name: str
    rules: Mapping[str, Node] = field(default_factory=dict)
    public: tuple[str, ...] = ()


def replace_refs(node: Node, prefix: str) -> Node:
    """The node with `<prefix.rule>` written `<rule>`."""
    match node:
        case Ref(name):
            return Ref(name.removeprefix(f"{prefix}."))
        case Sequence(items):
            return Sequence(tuple(replace_refs(item, prefix) for item in items))
        case Choice(items, weights):
            return Choice(tuple(replace_refs(item, prefix) for item in items), weights)
        case Maybe(item):
            return Maybe(replace_refs(item, prefix))
        case Many(item, least):
            return Many(replace_refs(item, prefix), least)
    return node


def children(node: Node) -> tuple[Node, ...]:
    """The nodes directly below."""
    match node:
        case Sequence(items) | Choice(items):
            return items
        case Maybe(item) | Many(item):
            return (item,)
    return ()


def walk(node: Node) -> Iterator[Node]:
    """The node and everything below it, rules not followed."""
    yield node
    for child in children(node):
        yield from walk(child)


def refs(node: Node) -> Iterator[str]:
    """Names of the rules the node refers to."""
    return (below.name for below in walk(node) if isinstance(below, Ref))


def reachable(grammar: Grammar, roots: tuple[str, ...]) -> tuple[str, ...]:
    """Rules used from `roots`, the roots first."""
    found = dict.fromkeys(roots)
    waiting = list(roots)
    while waiting:
        for name in refs(grammar.rules[waiting.pop()]):
            if name not in found:
                found[name] = None
                waiting.append(name)
    return tuple(found)


def words(grammar: Grammar) -> frozenset[str]:
    """Every word reachable from the public rules."""
    return frozenset(
        node.text
        for name in reachable(grammar, grammar.public)
        for node in walk(grammar.rules[name])
        if isinstance(node, Word)
    )


def write(grammar: Grammar) -> str:
    """JSGF text of what the public rules reach; tags are left out."""
    lines = ["#JSGF V1.0;", "", f"grammar {grammar.name};", ""]
    for name in reachable(grammar, grammar.public):
        public = "public " if name in grammar.public else ""
        lines.append(f"{public}<{name}> = {_written(grammar.rules[name])};")
    return "\n".join(lines) + "\n"


def _written(node: Node) -> str:
    match node:
        case Word(text):
            return text
        case Ref(name):
            return f"<{name}>"
        case Sequence(items):
            parts = [_grouped(item) for item in items if not isinstance(item, Tag)]
            return " ".join(parts) or "<NULL>"
        case Choice(items, weights):
            texts = [_written(item) for item in items]
            if weights:
                texts = [
                    f"/{weight:g}/ {text}" for weight, text in zip(weights, texts, strict=True)
                ]
            return " | ".join(texts) or "<VOID>"
        case Maybe(item):
            return f"[{_written(item)}]"
        case Many(item, least):
            return f"({_written(item)}){'+' if least else '*'}"
        case Tag():
            return "<NULL>"


def _grouped(node: Node) -> str:
    text = _written(node)
    return f"({text})" if isinstance(node, Choice) and node.items else text
