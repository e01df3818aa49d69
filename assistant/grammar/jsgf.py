"""Read grammars in the Java Speech Grammar Format, version 1.0.

https://www.w3.org/TR/jsgf/ : header, rules, alternatives with weights, groups,
optionals, `*` and `+`, tags, quoted words and comments. Imports are refused.
"""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from assistant.grammar.jsgf_tree import (
    NULL,
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
    children,
    reachable,
    refs,
    replace_refs,
    walk,
    words,
    write,
)

DEEPEST = 100  # nesting of groups; deeper text is hostile, not a grammar


class JsgfError(ValueError):
    """The text is not a grammar this reader knows; names the line."""

    def __init__(self, line: int, problem: str) -> None:
        super().__init__(f"line {line}: {problem}")
        self.line = line


_SPECIAL: Mapping[str, Node] = {"NULL": NULL, "VOID": VOID}
_TOKEN = re.compile(
    r"""(?P<space>\s+|//[^\n]*|/\*.*?\*/)
      | (?P<weight>/\s*[0-9.]+(?:[eE][+-]?[0-9]+)?f?\s*/)
      | (?P<rule><[^<>]+>)
      | (?P<tag>\{(?:[^{}\\]|\\.)*\})
      | (?P<quoted>"(?:[^"\\\n]|\\.)*")
      | (?P<mark>[=|()\[\]*+;])
      | (?P<word>[^\s=|()\[\]*+;<>{}"/]+)""",
    re.VERBOSE | re.DOTALL,
)


@dataclass(frozen=True, slots=True)
class _Token:
    kind: str
    text: str
    line: int


def _tokens(text: str) -> Iterator[_Token]:
    at, line = 0, 1
    while at < len(text):
        found = _TOKEN.match(text, at)
        if found is None:
            raise JsgfError(line, f"cannot read {text[at : at + 12].split(maxsplit=1)[0]!r}")
        if found.lastgroup != "space":
            yield _Token(str(found.lastgroup), found.group(), line)
        line += found.group().count("\n")
        at = found.end()
    yield _Token("end", "end of the grammar", line)


class _Reader:
    """A recursive-descent reader over the tokens."""

    def __init__(self, text: str) -> None:
        self._tokens = list(_tokens(text))
        self._at = 0
        self._depth = 0

    @property
    def next(self) -> _Token:
        return self._tokens[self._at]

    def take(self, *wanted: str) -> _Token:
        token = self.next
        if wanted and token.text not in wanted and token.kind not in wanted:
            expected = " or ".join(wanted)
            raise JsgfError(token.line, f"expected {expected}, found {token.text!r}")
        self._at = min(self._at + 1, len(self._tokens) - 1)
        return token

    def grammar(self) -> Grammar:
        self.take("#JSGF")
        while self.next.text != ";":
            self.take("word")
        self.take(";")
        self.take("grammar")
        name = self.take("word").text
        self.take(";")
        rules: dict[str, Node] = {}
        public: list[str] = []
        while self.next.kind != "end":
            if self.next.text == "import":
                raise JsgfError(self.next.line, "imports are not supported; copy the rules in")
            is_public = self.next.text == "public"
            if is_public:
                self.take()
            token = self.take("rule")
            rule = _rule_name(token.text, name)
            if rule in rules:
                raise JsgfError(token.line, f"rule <{rule}> is defined twice")
            self.take("=")
            rules[rule] = self.choice()
            self.take(";")
            if is_public:
                public.append(rule)
        return _checked(Grammar(name, rules, tuple(public)), self.next.line, name)

    def choice(self) -> Node:
        self._depth += 1
        if self._depth > DEEPEST:
            raise JsgfError(self.next.line, "groups are nested too deeply")
        items, weights = [], []
        while True:
            weighted = self.next.kind == "weight"
            weights.append(_weight(self.take()) if weighted else None)
            items.append(self.sequence())
            if self.next.text != "|":
                break
            self.take()
        self._depth -= 1
        if len(items) == 1:
            return items[0]
        known = [weight for weight in weights if weight is not None]
        return Choice(tuple(items), tuple(known) if len(known) == len(items) else ())

    def sequence(self) -> Node:
        items: list[Node] = []
        while self.next.kind in ("word", "quoted", "rule", "tag") or self.next.text in ("(", "["):
            items.append(self.item())
        if not items:
            raise JsgfError(self.next.line, f"expected words, found {self.next.text}")
        return items[0] if len(items) == 1 else Sequence(tuple(items))

    def item(self) -> Node:
        token = self.take()
        node: Node
        if token.text in ("(", "["):
            inner = self.choice()
            self.take(")" if token.text == "(" else "]")
            node = inner if token.text == "(" else Maybe(inner)
        elif token.kind == "rule":
            name = token.text[1:-1].strip()
            node = _SPECIAL.get(name) or Ref(name)
        elif token.kind == "tag":
            node = Tag(re.sub(r"\\(.)", r"\1", token.text[1:-1]).strip())
        elif token.kind == "quoted":
            words = re.sub(r"\\(.)", r"\1", token.text[1:-1]).split()
            node = Word(words[0]) if len(words) == 1 else Sequence(tuple(map(Word, words)))
        else:
            node = Word(token.text)
        while self.next.text in ("*", "+"):
            node = Many(node, least=0 if self.take().text == "*" else 1)
        return node


def _weight(token: _Token) -> float:
    try:
        return float(token.text.strip("/ \t\n").rstrip("f"))
    except ValueError:
        raise JsgfError(token.line, f"{token.text} is not a weight") from None


def _rule_name(text: str, grammar: str) -> str:
    return text[1:-1].strip().removeprefix(f"{grammar}.")


def _checked(grammar: Grammar, line: int, name: str) -> Grammar:
    """The grammar with its references by short name, every one of them defined."""
    if not grammar.rules:
        raise JsgfError(line, "the grammar has no rules")
    rules = {rule: replace_refs(node, name) for rule, node in grammar.rules.items()}
    for rule, node in rules.items():
        for ref in refs(node):
            if ref not in rules:
                raise JsgfError(line, f"rule <{rule}> uses <{ref}>, which is not defined")
    return Grammar(grammar.name, rules, grammar.public or (next(iter(rules)),))


def read(text: str) -> Grammar:
    """The grammar in `text`; raises JsgfError naming the line and what was expected."""
    return _Reader(text.removeprefix("\ufeff")).grammar()


__all__ = [
    "NULL", "VOID", "Choice", "Grammar", "JsgfError", "Many", "Maybe", "Node", "Ref", "Sequence",
    "Tag", "Word", "children", "reachable", "read", "refs", "walk", "words", "write",
]  # fmt: skip
