"""Events: what the journal keeps, as frozen values.

An event is a fact that was accepted, or something the assistant did. The state
is only ever computed from events (`assistant.cook.rules.fold`). A fact carries the
name and slots of the command it came from, so a journal reads like the evening
was spoken. Every event is stored beside its time (`Recorded.at_s`). `SHOWN`: people see it
in a printed cook; the rest shows by what was said.
"""

from dataclasses import dataclass
from typing import ClassVar, assert_never

from assistant.cook.guidance import POULTRY_F
from assistant.cook.vocabulary.commands import (
    Bath,
    Command,
    FuelKind,
    Said,
    Scale,
    Spot,
    Sugar,
    TroubleKind,
    Vent,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class CookBegan:
    """A cook starts. `zone` is an IANA time-zone name for clock times; `sauces` are
    the cook's own, with their sugar levels."""

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


@dataclass(frozen=True, slots=True)
class CookEnded:
    NAME: ClassVar[str] = "end_cook"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class BirdRead:
    """A core reading. `temperature` is F after the thermometer's correction;
    `said` is what was spoken. `confirmed`: asked back and insisted on."""

    NAME: ClassVar[str] = "bird_reading"
    SHOWN: ClassVar[bool] = True
    bird: int
    temperature: float
    said: Said
    spot: Spot | None = None
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class GrillRead:
    NAME: ClassVar[str] = "grill_reading"
    SHOWN: ClassVar[bool] = True
    temperature: float
    said: Said


@dataclass(frozen=True, slots=True)
class BirdWeighed:
    """`kind` where it is not the cook's: a plan may mix them."""

    NAME: ClassVar[str] = "bird_weight"
    SHOWN: ClassVar[bool] = True
    bird: int
    mass_kg: float
    pounds: float | None = None
    ounces: float | None = None
    kilograms: float | None = None
    kind: str | None = None


@dataclass(frozen=True, slots=True)
class SauceAssigned:
    NAME: ClassVar[str] = "bird_sauce"
    SHOWN: ClassVar[bool] = True
    bird: int
    sauce: str
    sugar: Sugar = "some"


@dataclass(frozen=True, slots=True)
class BirdOn:
    """One event a bird, also when all were put on together."""

    NAME: ClassVar[str] = "birds_on"
    SHOWN: ClassVar[bool] = True
    bird: int


@dataclass(frozen=True, slots=True)
class BirdOff:
    """`for_good`: asked, below its mark, and insisted on."""

    NAME: ClassVar[str] = "birds_off"
    SHOWN: ClassVar[bool] = True
    bird: int
    for_good: bool = False


@dataclass(frozen=True, slots=True)
class BirdSauced:
    NAME: ClassVar[str] = "sauced"
    SHOWN: ClassVar[bool] = True
    bird: int


@dataclass(frozen=True, slots=True)
class FuelPut:
    NAME: ClassVar[str] = "fuel_added"
    SHOWN: ClassVar[bool] = True
    count: float
    kind: FuelKind = "briquettes"


@dataclass(frozen=True, slots=True)
class WoodPut:
    NAME: ClassVar[str] = "wood_added"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class LidOpened:
    NAME: ClassVar[str] = "lid_off"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class LidClosed:
    NAME: ClassVar[str] = "lid_on"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class FireStarted:
    NAME: ClassVar[str] = "fire_lit"
    SHOWN: ClassVar[bool] = True


@dataclass(frozen=True, slots=True)
class VentsSet:
    NAME: ClassVar[str] = "vents"
    SHOWN: ClassVar[bool] = True
    which: Vent
    opening: float


@dataclass(frozen=True, slots=True)
class ServeSet:
    """Serving time, seconds since the epoch."""

    NAME: ClassVar[str] = "serve_at"
    SHOWN: ClassVar[bool] = True
    serve_s: float


@dataclass(frozen=True, slots=True)
class TimerStarted:
    """`for_dinner`: a side dish of the plan, which moves with the serving time."""

    NAME: ClassVar[str] = "timer_set"
    SHOWN: ClassVar[bool] = True
    due_s: float
    minutes: float
    name: str | None = None
    for_dinner: bool | None = None


@dataclass(frozen=True, slots=True)
class TimerCancelled:
    NAME: ClassVar[str] = "timer_cancel"
    SHOWN: ClassVar[bool] = True
    number: int
    name: str | None = None


@dataclass(frozen=True, slots=True)
class PromptSaid:
    """`key` names what was due (see `assistant.cook.rules.due`)."""

    NAME: ClassVar[str] = "prompt_said"
    SHOWN: ClassVar[bool] = False
    key: str
    urgency: str
    late_s: float = 0.0


@dataclass(frozen=True, slots=True)
class PromptAcknowledged:
    NAME: ClassVar[str] = "acknowledge"
    SHOWN: ClassVar[bool] = True
    keys: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class PromptSnoozed:
    NAME: ClassVar[str] = "snooze"
    SHOWN: ClassVar[bool] = True
    keys: tuple[str, ...]
    until_s: float


@dataclass(frozen=True, slots=True)
class AskedBack:
    """A question is open. `options` are whole commands; `why` names the reason.
    `clock_s`: how far the computer's clock stood after the last event, where it is asked
    about."""

    NAME: ClassVar[str] = "asked_back"
    SHOWN: ClassVar[bool] = False
    options: tuple[Command, ...]
    why: str
    clock_s: float | None = None


@dataclass(frozen=True, slots=True)
class AskBackClosed:
    """The open question is settled or dropped."""

    NAME: ClassVar[str] = "ask_back_closed"
    SHOWN: ClassVar[bool] = False
    answer: str


@dataclass(frozen=True, slots=True)
class Undone:
    """The event with this sequence number no longer counts."""

    NAME: ClassVar[str] = "undo"
    SHOWN: ClassVar[bool] = True
    target: int


@dataclass(frozen=True, slots=True)
class Corrected:
    """The reading with sequence number `target` has another temperature."""

    NAME: ClassVar[str] = "correct"
    SHOWN: ClassVar[bool] = True
    target: int
    temperature: float
    said: Said


@dataclass(frozen=True, slots=True)
class TroubleNoted:
    """`effect` names what it does to the forecasts (see `assistant.cook.rules.trouble`)."""

    NAME: ClassVar[str] = "trouble"
    SHOWN: ClassVar[bool] = True
    kind: TroubleKind
    bird: int | None = None
    effect: str = "none"


@dataclass(frozen=True, slots=True)
class Held:
    """Dinner put back; `serve_s` is the new serving time."""

    NAME: ClassVar[str] = "hold"
    SHOWN: ClassVar[bool] = True
    minutes: float
    serve_s: float | None = None


@dataclass(frozen=True, slots=True)
class ReadinessMoved:
    """The readiness list stands at item `item` (0-based); `answer` closed the last."""

    NAME: ClassVar[str] = "readiness"
    SHOWN: ClassVar[bool] = True
    item: int
    answer: str


@dataclass(frozen=True, slots=True)
class ThermometerChecked:
    """`correction_f` is added to every later reading of the hand-held thermometer."""

    NAME: ClassVar[str] = "thermometer_check"
    SHOWN: ClassVar[bool] = True
    bath: Bath
    temperature: float
    said: Said
    correction_f: float


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


@dataclass(frozen=True, slots=True)
class WordsHeard:
    """What was heard and what became of it, for the look-back; never state."""

    NAME: ClassVar[str] = "heard"
    SHOWN: ClassVar[bool] = False
    words: str
    confidence: float
    outcome: str
    command: str | None = None


@dataclass(frozen=True, slots=True)
class Resumed:
    """The program came back after `away_s` seconds, or the cook said that it did.
    `boot` names the computer's boot, `booted_s` when that was by this cook's time."""

    NAME: ClassVar[str] = "resumed"
    SHOWN: ClassVar[bool] = False
    away_s: float
    boot: str | None = None
    booted_s: float | None = None


# What is folded where (see `assistant.cook.rules.fold`): each set has an exhaustive function.
BirdEvent = BirdRead | BirdWeighed | SauceAssigned | BirdOn | BirdOff | BirdSauced
FireEvent = GrillRead | FuelPut | WoodPut | LidOpened | LidClosed | FireStarted | VentsSet
DinnerEvent = (
    CookBegan | CookEnded | ServeSet | Held | ThermometerChecked | ReadinessMoved | TroubleNoted
)  # fmt: skip
TalkEvent = (
    TimerStarted | TimerCancelled | PromptSaid | PromptAcknowledged | PromptSnoozed
    | AskedBack | AskBackClosed | Slept | Woke | VolumeChanged | Resumed
)  # fmt: skip
Mending = Undone | Corrected
# An event is a fact that "scratch that" takes back, or one that stays (see `is_undoable`).
Undoable = (
    BirdRead | GrillRead | BirdWeighed | SauceAssigned | BirdOn | BirdOff | BirdSauced
    | FuelPut | WoodPut | LidOpened | LidClosed | FireStarted | VentsSet | ServeSet
    | TimerStarted | TimerCancelled | TroubleNoted | Held | ThermometerChecked
)  # fmt: skip
Lasting = (
    CookBegan | CookEnded | PromptSaid | PromptAcknowledged | PromptSnoozed | AskedBack
    | AskBackClosed | Undone | Corrected | ReadinessMoved | Slept | Woke | VolumeChanged
    | WordsHeard | Resumed
)  # fmt: skip
Event = (
    CookBegan | CookEnded | BirdRead | GrillRead | BirdWeighed | SauceAssigned
    | BirdOn | BirdOff | BirdSauced | FuelPut | WoodPut | LidOpened | LidClosed
    | FireStarted | VentsSet | ServeSet | TimerStarted | TimerCancelled | PromptSaid
    | PromptAcknowledged | PromptSnoozed | AskedBack | AskBackClosed | Undone
    | Corrected | TroubleNoted | Held | ReadinessMoved | ThermometerChecked
    | Slept | Woke | VolumeChanged | WordsHeard | Resumed
)  # fmt: skip


def is_undoable(event: Event) -> bool:
    """Whether "scratch that" takes this event back."""
    if isinstance(event, Undoable):
        return True
    if isinstance(event, Lasting):
        return False
    assert_never(event)


@dataclass(frozen=True, slots=True)
class Recorded:
    """An event with its place (from 1) and time (epoch seconds) in a cook's journal."""

    seq: int
    at_s: float
    event: Event
