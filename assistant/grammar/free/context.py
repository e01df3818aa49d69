"""What words are understood against, and what comes of them. Pure values."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from assistant.cook.vocabulary.commands import Command, Scale, Side, Spot
from assistant.grammar.free.open_facts import Fact

FreeOutcome = Literal["accept", "ask", "refuse"]


@dataclass(frozen=True, slots=True)
class Context:
    """The evening as far as words need it.

    `birds`: how many are on the spit tonight, numbered from the motor's end. `sauces`:
    the bird's sauce by its number ("plain" for none). `weights_kg`: those known.
    `motor_side`: on which hand the cook has the motor. `spoken`: the bird spoken of last, `spot`
    where it was read. `last_f`: the last reading of a bird, Fahrenheit. `asked`: the
    commands an open question offers, `later` those of the questions after it. `most`: where
    nobody said how many birds there are, the highest number one may have.
    """

    birds: int = 2
    sauces: Mapping[int, str] = field(default_factory=dict)
    names: tuple[str, ...] = ()
    weights_kg: Mapping[int, float] = field(default_factory=dict)
    scale: Scale = "F"
    motor_side: Side | None = None
    spoken: int | None = None
    spot: Spot | None = None
    last_f: Mapping[int, float] = field(default_factory=dict)
    asked: tuple[Command, ...] = ()
    later: tuple[tuple[Command, ...], ...] = ()
    most: int | None = None

    @property
    def most_birds(self) -> int:
        """The highest number a bird can have."""
        return self.birds if self.most is None else self.most


def tonight(birds: int, sauces: tuple[str, ...], scale: Scale = "F") -> Context:
    """The evening before anything was said: sauces to birds in order, the rest plain."""
    by_bird = {n: (sauces[n - 1] if n <= len(sauces) else "plain") for n in range(1, birds + 1)}
    return Context(birds, by_bird if sauces else {}, sauces, scale=scale)


@dataclass(frozen=True, slots=True)
class Understood:
    """What words mean. `facts` in the order said; those that are clear stand even where
    `question` asks for the rest, of which `options` are the whole commands it could be, and
    `later` those of further questions.
    `help`: for a refusal, what was understood and what is missing. `cost`: 0 for words
    that leave nothing unexplained, about 1 for each word that does."""

    facts: tuple[Fact, ...]
    outcome: FreeOutcome
    question: str | None = None
    options: tuple[Command, ...] = ()
    later: tuple[tuple[Command, ...], ...] = ()
    help: str | None = None
    cost: float = 0.0
