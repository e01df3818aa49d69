"""What the program itself notes: a cook begun, ended and gone on with, prompts, questions."""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.guidance import POULTRY_F
from assistant.cook.vocabulary.commands import Command
from assistant.cook.vocabulary.terms import Scale, Side, Sugar
from assistant.heat.bird.evidence import HeatKind


@dataclass(frozen=True, slots=True)
class CookBegan:
    """A cook starts. `zone` is an IANA time-zone name for clock times; `sauces` are
    the cook's own, with their sugar levels. `heat` None: a motor-driven charcoal spit."""

    NAME: ClassVar[str] = "start_cook"
    SHOWN: ClassVar[bool] = False
    zone: str = "UTC"
    birds: int | None = None
    band_low_f: float = 350.0
    band_high_f: float = 400.0
    sauce_mark_f: float = 130.0
    done_mark_f: float = POULTRY_F
    kind: str = "chicken"
    scale: Scale = "F"
    altitude_m: float = 0.0
    outside_f: float = 68.0
    name: str | None = None
    sauces: tuple[tuple[str, Sugar], ...] = ()
    boot: str | None = None
    booted_s: float | None = None
    motor_side: Side | None = None
    heat: HeatKind | None = None


@dataclass(frozen=True, slots=True)
class CookEnded:
    NAME: ClassVar[str] = "end_cook"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class PromptSaid:
    """`key` names what was due (see `assistant.cook.rules.due`)."""

    NAME: ClassVar[str] = "prompt_said"
    SHOWN: ClassVar[bool] = False
    key: str
    urgency: str
    late_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Waiting:
    """A question of the same breath that waits till the one before it is closed."""

    options: tuple[Command, ...]
    why: str


@dataclass(frozen=True, slots=True)
class AskedBack:
    """A question is open. `options` are whole commands; `why` names the reason.
    `clock_s`: how far the computer's clock stood after the last event, where it is asked
    about. `later`: what is to be asked once this is closed."""

    NAME: ClassVar[str] = "asked_back"
    SHOWN: ClassVar[bool] = False
    options: tuple[Command, ...]
    why: str
    clock_s: float | None = None
    later: tuple[Waiting, ...] | None = None


@dataclass(frozen=True, slots=True)
class AskBackClosed:
    """The open question is settled or dropped."""

    NAME: ClassVar[str] = "ask_back_closed"
    SHOWN: ClassVar[bool] = False
    answer: str


@dataclass(frozen=True, slots=True)
class WordsHeard:
    """What was heard and what became of it, for the look-back; never state. `meaning`: the
    grammar's own sentence for the command taken."""

    NAME: ClassVar[str] = "heard"
    SHOWN: ClassVar[bool] = False
    words: str
    confidence: float
    outcome: str
    command: str | None = None
    meaning: str | None = None


@dataclass(frozen=True, slots=True)
class Resumed:
    """The program came back after `away_s` seconds, or the cook said that it did.
    `boot` names the computer's boot, `booted_s` when that was by this cook's time."""

    NAME: ClassVar[str] = "resumed"
    SHOWN: ClassVar[bool] = False
    away_s: float
    boot: str | None = None
    booted_s: float | None = None


ProgramEvent = CookBegan | CookEnded | PromptSaid | AskedBack | AskBackClosed | WordsHeard | Resumed
