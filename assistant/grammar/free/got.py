"""The words a frame covers, as its builder meets them."""

from collections.abc import Callable
from dataclasses import dataclass

from assistant.cook.vocabulary import commands as cmd
from assistant.grammar.free.context import Context
from assistant.grammar.free.figures import Figure
from assistant.grammar.free.lex import Item
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.refer import Ref


class Unclear(Exception):  # noqa: N818
    """A frame fits, but something has to be asked; carries the question and options."""

    def __init__(self, question: str, options: tuple[cmd.Command, ...] = ()) -> None:
        super().__init__(question)
        self.question = question
        self.options = options


@dataclass(frozen=True)
class Got:
    """The items a frame covers, by kind, and what was meant so far."""

    items: tuple[Item, ...]
    context: Context
    earlier: tuple[int, ...]  # birds of the last reference before this frame
    named: tuple[int, ...] = ()  # all birds of this breath before this frame

    def all(self, kind: str) -> list[Item]:
        """The items of one kind, in order."""
        return [item for item in self.items if item.kind == kind]

    def has(self, *words: str) -> bool:
        """Whether one of the words stands there."""
        return any(item.text in words for item in self.items)

    def figures(self) -> list[Figure]:
        """The numbers, in order."""
        return [item.value for item in self.all("N") if isinstance(item.value, Figure)]

    def refs(self) -> list[Ref]:
        """The birds, in order."""
        return [item.value for item in self.items if isinstance(item.value, Ref)]

    def birds(self) -> tuple[int, ...]:
        """The birds meant; empty where not clear."""
        refs = self.refs()
        for ref in refs:
            if ref.numbers and ref.kind != "all":
                return ref.numbers
        for ref in refs:
            if ref.kind == "all" and ref.numbers:
                return ref.numbers
        for ref in refs:
            if ref.kind in {"other", "others"}:
                return self._others(alone=ref.kind == "other")
        if any(ref.kind == "last" for ref in refs):
            if self.earlier:
                return self.earlier
            return (self.context.spoken,) if self.context.spoken else self.only()
        return () if refs else self.only()

    def _others(self, *, alone: bool) -> tuple[int, ...]:
        """The birds than those named so far; empty where nobody was, or "the other" fits two."""
        spoken = self.context.spoken
        named = self.named or ((spoken,) if spoken else ())
        left = tuple(n for n in range(1, self.context.birds + 1) if n not in named)
        return () if not named or (alone and len(left) != 1) else left

    def only(self) -> tuple[int, ...]:
        """The one bird there is, where there is only one."""
        return (1,) if self.context.birds == 1 else ()

    def is_all(self) -> bool:
        """Whether every bird is meant."""
        refs = self.refs()
        return bool(refs) and all(ref.kind == "all" for ref in refs)

    def spot(self) -> cmd.Spot | None:
        """Where it was read."""
        spots = self.all("P")
        return spots[-1].value if spots else None  # type: ignore[return-value]


Build = Callable[[Got], tuple[Fact, ...] | None]


def said(figure: Figure, context: Context) -> cmd.Said:
    """The number with the scale it was meant in."""
    return cmd.Said(figure.value, figure.scale or context.scale)
