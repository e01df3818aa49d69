"""Refusals: why something cannot be recorded. `WHY` names one in lines and JSON."""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.commands import BirdReading, GrillReading


@dataclass(frozen=True, slots=True)
class NoMeatReads:
    """No bird can have that temperature."""

    WHY: ClassVar[str] = "no_meat_reads"
    command: BirdReading


@dataclass(frozen=True, slots=True)
class GrillImpossible:
    """No grill can have that temperature."""

    WHY: ClassVar[str] = "grill_impossible"
    command: GrillReading


@dataclass(frozen=True, slots=True)
class NoBirdWeighs:
    """Lighter or heavier than any bird."""

    WHY: ClassVar[str] = "no_bird_weighs"


@dataclass(frozen=True, slots=True)
class BathDoubtful:
    """A check too far off to be the thermometer's fault; the water should be `true_f`."""

    WHY: ClassVar[str] = "bath_doubtful"
    true_f: float


@dataclass(frozen=True, slots=True)
class FuelCount:
    """More than a grill holds, or nothing."""

    WHY: ClassVar[str] = "fuel_count"
    count: float


@dataclass(frozen=True, slots=True)
class BeyondTonight:
    """There are only `birds` birds."""

    WHY: ClassVar[str] = "beyond_tonight"
    bird: int
    birds: int


@dataclass(frozen=True, slots=True)
class NotOn:
    """That bird (None: any) is not on the heat."""

    WHY: ClassVar[str] = "not_on"
    bird: int | None


@dataclass(frozen=True, slots=True)
class SaucedBeforeOn:
    """That bird (None: any) has never been on the heat."""

    WHY: ClassVar[str] = "sauced_before_on"
    bird: int | None


@dataclass(frozen=True, slots=True)
class UnknownBird:
    """Nothing was ever told of that bird."""

    WHY: ClassVar[str] = "unknown_bird"
    bird: int


@dataclass(frozen=True, slots=True)
class NoReading:
    """That bird (None: any) was never read."""

    WHY: ClassVar[str] = "no_reading"
    bird: int | None


@dataclass(frozen=True, slots=True)
class NoTimer:
    """No timer of that name (None: none at all) is running."""

    WHY: ClassVar[str] = "no_timer"
    name: str | None


@dataclass(frozen=True, slots=True)
class ServePast:
    """Dinner would be in the past."""

    WHY: ClassVar[str] = "serve_past"


@dataclass(frozen=True, slots=True)
class Minutes:
    """Not between a minute and a day."""

    WHY: ClassVar[str] = "minutes"


@dataclass(frozen=True, slots=True)
class NothingToUndo:
    """No fact is left to take back."""

    WHY: ClassVar[str] = "nothing_to_undo"


@dataclass(frozen=True, slots=True)
class NothingToCorrect:
    """No reading is left to correct."""

    WHY: ClassVar[str] = "nothing_to_correct"


@dataclass(frozen=True, slots=True)
class NotOnYet:
    """No bird has been on the heat."""

    WHY: ClassVar[str] = "not_on_yet"


@dataclass(frozen=True, slots=True)
class NoBirds:
    """Nobody named a bird yet."""

    WHY: ClassVar[str] = "no_birds"


@dataclass(frozen=True, slots=True)
class TooManyTimers:
    """As many run as anybody can follow."""

    WHY: ClassVar[str] = "too_many_timers"
    most: int


@dataclass(frozen=True, slots=True)
class ClaimingName:
    """A name that would make a sentence say that food is safe."""

    WHY: ClassVar[str] = "claiming_name"


@dataclass(frozen=True, slots=True)
class NotThen:
    """It cannot have happened then: too far back, or not after what is known of `known_s`
    (epoch seconds)."""

    WHY: ClassVar[str] = "not_then"
    known_s: float | None = None


@dataclass(frozen=True, slots=True)
class StillOn:
    """Birds that are still on the spit cannot be carved."""

    WHY: ClassVar[str] = "still_on"
    birds: tuple[int, ...]


Refusal = (
    NoMeatReads | GrillImpossible | NoBirdWeighs | BathDoubtful | FuelCount | BeyondTonight
    | NotOn | SaucedBeforeOn | UnknownBird | NoReading | NoTimer | ServePast | Minutes
    | NothingToUndo | NothingToCorrect | NotOnYet | NoBirds | ClaimingName | TooManyTimers
    | NotThen | StillOn
)  # fmt: skip
