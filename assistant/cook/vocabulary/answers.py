"""Answers: what is told without changing the record. `TOPIC` names one in lines and JSON."""

from dataclasses import dataclass
from typing import ClassVar, Literal

from assistant.cook.planning.plan import Plan
from assistant.cook.state import AirRead, Bird, Reading
from assistant.cook.vocabulary.commands import (
    BirdsOn,
    Command,
    LidOff,
    LidOn,
    Mark,
    Rest,
    StartCook,
)
from assistant.cook.vocabulary.prompts import Prompt
from assistant.heat.bird.evidence import BirdForecast


@dataclass(frozen=True, slots=True)
class WhichOne:
    """The open question again: "yes" to several options chooses none."""

    TOPIC: ClassVar[str] = "which_one"
    options: tuple[Command, ...]


@dataclass(frozen=True, slots=True)
class Already:
    """What was told is how things stand."""

    TOPIC: ClassVar[str] = "already"
    command: LidOff | LidOn | BirdsOn | Rest | StartCook


@dataclass(frozen=True, slots=True)
class AllOff:
    """Every bird is off for good: there is none to put on."""

    TOPIC: ClassVar[str] = "all_off"


@dataclass(frozen=True, slots=True)
class NothingOpen:
    """Nothing waits for "got it" or "snooze"."""

    TOPIC: ClassVar[str] = "nothing_open"


@dataclass(frozen=True, slots=True)
class NothingAsked:
    """An answer, and no question."""

    TOPIC: ClassVar[str] = "nothing_asked"


@dataclass(frozen=True, slots=True)
class NoList:
    """ "Skip" or "go back" without the readiness list."""

    TOPIC: ClassVar[str] = "no_list"


@dataclass(frozen=True, slots=True)
class SayAgain:
    """The last sentence once more."""

    TOPIC: ClassVar[str] = "repeat"


@dataclass(frozen=True, slots=True)
class StopSpeech:
    """The speech that plays ends; nothing is said."""

    TOPIC: ClassVar[str] = "hush"


@dataclass(frozen=True, slots=True)
class Next:
    """What comes, soonest first, as seen at `now_s` (epoch seconds); `called`: what was
    called before that and is not done."""

    TOPIC: ClassVar[str] = "next"
    prompts: tuple[Prompt, ...]
    now_s: float
    called: tuple[Prompt, ...] = ()


@dataclass(frozen=True, slots=True)
class Status:
    """How birds, fire and dinner stand, and what is next."""

    TOPIC: ClassVar[str] = "status"
    next: Next


@dataclass(frozen=True, slots=True)
class Elapsed:
    """Time since the first bird went on, or since the cook began."""

    TOPIC: ClassVar[str] = "elapsed"
    since: Literal["birds_on", "began"]
    seconds: float


@dataclass(frozen=True, slots=True)
class LastReading:
    """A bird's last reading; `doubted`: it was asked back and never settled."""

    TOPIC: ClassVar[str] = "last"
    bird: int
    reading: Reading
    age_s: float
    doubted: bool


@dataclass(frozen=True, slots=True)
class FireStands:
    """The last grill reading and when fuel last went on (lighting counts), epoch seconds."""

    TOPIC: ClassVar[str] = "fire"
    reading: AirRead | None
    fed_s: float | None
    now_s: float


@dataclass(frozen=True, slots=True)
class Sauces:
    """The birds asked about."""

    TOPIC: ClassVar[str] = "sauces"
    birds: tuple[Bird, ...]


@dataclass(frozen=True, slots=True)
class BirdsLeft:
    """Birds still cooking, the one expected off first in front."""

    TOPIC: ClassVar[str] = "left"
    birds: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class WhyPrompt:
    """The reason of a prompt of this kind."""

    TOPIC: ClassVar[str] = "why_prompt"
    kind: str


@dataclass(frozen=True, slots=True)
class WhySpread:
    """Where each bird may be now, and what the spread comes from."""

    TOPIC: ClassVar[str] = "why"
    rows: tuple[BirdForecast, ...]


@dataclass(frozen=True, slots=True)
class WordsBack:
    """The last words understood; None: none were."""

    TOPIC: ClassVar[str] = "heard"
    words: str | None


@dataclass(frozen=True, slots=True)
class Help:
    """What can be said here and now."""

    TOPIC: ClassVar[str] = "help"


@dataclass(frozen=True, slots=True)
class ListItem:
    """An item of the readiness list, with tonight's figures; `item` None: the end of it.
    `boils_f`: where water boils here; `heaviest`: a bird, where several are weighed."""

    TOPIC: ClassVar[str] = "item"
    item: str | None
    boils_f: float
    heaviest: int | None


@dataclass(frozen=True, slots=True)
class WhenRow:
    """A bird, the mark it comes to next, and whether it has read its done mark."""

    bird: int
    mark: Mark
    forecast: BirdForecast
    is_done: bool


@dataclass(frozen=True, slots=True)
class When:
    """When each bird asked about reaches its mark; `everyone`: no one bird was asked about."""

    TOPIC: ClassVar[str] = "when"
    rows: tuple[WhenRow, ...]
    everyone: bool = False


@dataclass(frozen=True, slots=True)
class Planned:
    """The plan, while nothing is on the spit."""

    TOPIC: ClassVar[str] = "planned"
    plan: Plan


@dataclass(frozen=True, slots=True)
class Change:
    """How much later a bird would be done, seconds; None: it can't be told."""

    bird: int
    later_s: float | None


@dataclass(frozen=True, slots=True)
class WhatIf:
    """With the grill at `temperature_f`; None: with the birds off for sauce now."""

    TOPIC: ClassVar[str] = "what_if"
    temperature_f: float | None
    rows: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class Leftovers:
    """By when what is left has to be in the cold."""

    TOPIC: ClassVar[str] = "leftovers"


@dataclass(frozen=True, slots=True)
class TimeOfDay:
    """The time now, epoch seconds."""

    TOPIC: ClassVar[str] = "time"
    now_s: float


Answer = (
    WhichOne | Already | AllOff | NothingOpen | NothingAsked | NoList | SayAgain | StopSpeech | Next
    | Status | Elapsed | LastReading | FireStands | Sauces | BirdsLeft | WhyPrompt | WhySpread
    | WordsBack | Help | ListItem | When | Planned | WhatIf | TimeOfDay | Leftovers
)  # fmt: skip
