"""What the ears hand on: sentences found in a sound, and the choice between them."""

from dataclasses import dataclass
from typing import Literal, Protocol

from assistant.cook.vocabulary.commands import Command
from assistant.grammar.free.context import Understood

Outcome = Literal["accept", "stress", "ask", "refuse"]
EngineName = Literal["whisper", "vosk"]


@dataclass(frozen=True, slots=True)
class Sentence:
    """Words a recogniser found, their log-probability, and how many pieces (tokens, the end
    of the sentence among them) it is the sum over. Comparable within one recogniser only."""

    words: str
    score: float
    tokens: int

    @property
    def mean(self) -> float:
        """Log-probability per token."""
        return self.score / self.tokens


@dataclass(frozen=True, slots=True)
class Heard:
    """One utterance after the choice.

    `outcome`: accept; stress (accept, value stressed in the read-back); ask
    (`alternatives` holds the commands to ask between); refuse (`reason` says why).
    `more`: further facts of the same breath, after `command`; with "ask" those facts are
    clear, and only the alternatives are not. `later`: options of further questions, to be
    asked after that between the alternatives. `help`: what is said beside, or instead of
    "not understood". `understood`: by ear, all that the words say, where they are believed.
    """

    words: str
    command: Command | None
    confidence: float
    outcome: Outcome
    alternatives: tuple[Command, ...] = ()
    reason: str | None = None
    engine: str = "typed"
    audio_s: float = 0.0
    compute_s: float = 0.0
    more: tuple[Command, ...] = ()
    later: tuple[tuple[Command, ...], ...] = ()
    help: str | None = None
    understood: Understood | None = None


class Prior(Protocol):
    """How plausible a command is now, as a log probability (up to a constant)."""

    def __call__(self, command: Command) -> float:
        """Log plausibility of `command`."""
        ...
