"""Talk with the program: answers, mending, how it speaks; and what becomes a fact."""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.terms import Said


@dataclass(frozen=True, slots=True)
class Acknowledge:
    NAME: ClassVar[str] = "acknowledge"
    CARD: ClassVar[str] = "Timers and answers"


@dataclass(frozen=True, slots=True)
class ItemDone:
    """ "Done" to a readiness item."""

    NAME: ClassVar[str] = "item_done"
    CARD: ClassVar[str] = "Before the fire"


@dataclass(frozen=True, slots=True)
class Snooze:
    NAME: ClassVar[str] = "snooze"
    CARD: ClassVar[str] = "Timers and answers"
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class Correct:
    """The last reading had another temperature; with `bird`, it was of that bird."""

    NAME: ClassVar[str] = "correct"
    CARD: ClassVar[str] = "Readings and birds"
    temperature: float | None = None
    said: Said | None = None
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class Undo:
    NAME: ClassVar[str] = "undo"
    CARD: ClassVar[str] = "Timers and answers"


@dataclass(frozen=True, slots=True)
class Repeat:
    NAME: ClassVar[str] = "repeat"
    CARD: ClassVar[str] = "Timers and answers"


@dataclass(frozen=True, slots=True)
class Yes:
    NAME: ClassVar[str] = "yes"
    CARD: ClassVar[str] = "Timers and answers"


@dataclass(frozen=True, slots=True)
class No:
    NAME: ClassVar[str] = "no"
    CARD: ClassVar[str] = "Timers and answers"


@dataclass(frozen=True, slots=True)
class Choose:
    """Answer to an ask-back by place: 1 is "first", 2 "second"."""

    NAME: ClassVar[str] = "choose"
    CARD: ClassVar[str] = "Timers and answers"
    place: int


@dataclass(frozen=True, slots=True)
class Number:
    """A bare number, as an answer to an ask-back or a readiness question."""

    NAME: ClassVar[str] = "number"
    CARD: ClassVar[str] = "Timers and answers"
    temperature: float
    said: Said


@dataclass(frozen=True, slots=True)
class StartCook:
    NAME: ClassVar[str] = "start_cook"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class EndCook:
    NAME: ClassVar[str] = "end_cook"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class Sleep:
    NAME: ClassVar[str] = "sleep"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class Wake:
    NAME: ClassVar[str] = "wake"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class Quieter:
    NAME: ClassVar[str] = "quieter"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class Louder:
    NAME: ClassVar[str] = "louder"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class Hush:
    """ "Quiet": stop the speech that is playing; nothing is recorded."""

    NAME: ClassVar[str] = "hush"
    CARD: ClassVar[str] = "The program"


@dataclass(frozen=True, slots=True)
class AwayFor:
    """How long the program was away, where the computer's clock could not tell."""

    NAME: ClassVar[str] = "away_for"
    CARD: ClassVar[str] = "Timers and answers"
    minutes: float


@dataclass(frozen=True, slots=True)
class PromptAcknowledged:
    """`done`: the cook said that it is done, not only heard."""

    NAME: ClassVar[str] = "acknowledge"
    SHOWN: ClassVar[bool] = True
    keys: tuple[str, ...]
    done: bool = False


@dataclass(frozen=True, slots=True)
class PromptSnoozed:
    NAME: ClassVar[str] = "snooze"
    SHOWN: ClassVar[bool] = True
    keys: tuple[str, ...]
    until_s: float


@dataclass(frozen=True, slots=True)
class Undone:
    """The event with this sequence number no longer counts."""

    NAME: ClassVar[str] = "undo"
    SHOWN: ClassVar[bool] = True
    target: int


@dataclass(frozen=True, slots=True)
class Corrected:
    """The reading with sequence number `target` has another temperature. `confirmed`:
    asked back and insisted on."""

    NAME: ClassVar[str] = "correct"
    SHOWN: ClassVar[bool] = True
    target: int
    temperature: float
    said: Said
    confirmed: bool | None = None


@dataclass(frozen=True, slots=True)
class Slept:
    NAME: ClassVar[str] = "sleep"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class Woke:
    NAME: ClassVar[str] = "wake"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class VolumeChanged:
    """`step` is -1 quieter or +1 louder."""

    NAME: ClassVar[str] = "volume"
    SHOWN: ClassVar[bool] = True
    step: int


TalkCommand = (
    Acknowledge | ItemDone | Snooze | Correct | Undo | Repeat | Yes | No | Choose | Number
    | StartCook | EndCook | Sleep | Wake | Quieter | Louder | Hush | AwayFor
)  # fmt: skip
TalkEvent = PromptAcknowledged | PromptSnoozed | Undone | Corrected | Slept | Woke | VolumeChanged
