"""Questions: they change nothing."""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.terms import Said


@dataclass(frozen=True, slots=True)
class AskWhen:
    NAME: ClassVar[str] = "ask_when"
    CARD: ClassVar[str] = "Questions"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskNext:
    NAME: ClassVar[str] = "ask_next"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskStatus:
    """How all of it stands: birds, fire, dinner, next."""

    NAME: ClassVar[str] = "ask_status"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskElapsed:
    NAME: ClassVar[str] = "ask_elapsed"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskLast:
    NAME: ClassVar[str] = "ask_last"
    CARD: ClassVar[str] = "Questions"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskFire:
    NAME: ClassVar[str] = "ask_fire"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskSauce:
    """Which sauce, of one bird or of all."""

    NAME: ClassVar[str] = "ask_sauce"
    CARD: ClassVar[str] = "Questions"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskLeft:
    """How many birds are still cooking."""

    NAME: ClassVar[str] = "ask_left"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskWhy:
    """The reason for the last prompt, or what a bird's spread comes from."""

    NAME: ClassVar[str] = "ask_why"
    CARD: ClassVar[str] = "Questions"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskHeard:
    """What did I say: the last words understood."""

    NAME: ClassVar[str] = "ask_heard"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskHelp:
    """What can I say, here and now."""

    NAME: ClassVar[str] = "ask_help"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskWhatIf:
    """What if the grill runs at `temperature`; without one: what if I sauce now."""

    NAME: ClassVar[str] = "ask_what_if"
    CARD: ClassVar[str] = "Questions"
    temperature: float | None = None
    said: Said | None = None


@dataclass(frozen=True, slots=True)
class AskLeftovers:
    """By when what is left has to be in the cold."""

    NAME: ClassVar[str] = "ask_leftovers"
    CARD: ClassVar[str] = "Questions"


@dataclass(frozen=True, slots=True)
class AskTime:
    """What time of day it is."""

    NAME: ClassVar[str] = "ask_time"
    CARD: ClassVar[str] = "Questions"


Question = (
    AskWhen | AskNext | AskStatus | AskElapsed | AskLast | AskFire | AskTime | AskSauce | AskLeft
    | AskLeftovers | AskWhy | AskHeard | AskHelp | AskWhatIf
)  # fmt: skip
