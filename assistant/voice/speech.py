"""What is to be said, and by whom."""

from dataclasses import dataclass
from typing import Literal, Protocol

Urgency = Literal["now", "soon", "convenient", "reply"]
Tone = Literal["heard", "unclear", "now", "soon", "convenient", "lost", "back"]


@dataclass(frozen=True, slots=True)
class Speech:
    """`text` is printed (digits), `spoken` is said (words)."""

    text: str
    spoken: str
    urgency: Urgency = "reply"


class Speaker(Protocol):
    """Says things in order of urgency; never blocks the caller."""

    def say(self, speech: Speech) -> None:
        """Queue words by their urgency."""
        ...

    def tone(self, tone: Tone) -> None:
        """Queue a tone, before all words."""
        ...

    def hush(self) -> None:
        """Stop what is playing."""
        ...

    def close(self) -> None:
        """Stop speaking for good."""
        ...
