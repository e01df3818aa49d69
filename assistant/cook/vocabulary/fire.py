"""The fire and the grill: what is said of them, and what becomes a fact.

`at_s` of an event: when it happened, epoch seconds, where that was before it was told.
"""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.terms import (
    Earlier,
    EndingKind,
    FuelKind,
    Said,
    TroubleKind,
    Vent,
    VentChange,
)


@dataclass(frozen=True, slots=True)
class GrillReading:
    NAME: ClassVar[str] = "grill_reading"
    CARD: ClassVar[str] = "Readings and birds"
    temperature: float
    said: Said
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class FuelAdded:
    """`count` None: some, nobody said how much."""

    NAME: ClassVar[str] = "fuel_added"
    CARD: ClassVar[str] = "Fire"
    count: float | None = None
    kind: FuelKind | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class WoodAdded:
    NAME: ClassVar[str] = "wood_added"
    CARD: ClassVar[str] = "Fire"
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class LidOff:
    NAME: ClassVar[str] = "lid_off"
    CARD: ClassVar[str] = "Fire"
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class LidOn:
    NAME: ClassVar[str] = "lid_on"
    CARD: ClassVar[str] = "Fire"
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class FireLit:
    NAME: ClassVar[str] = "fire_lit"
    CARD: ClassVar[str] = "Fire"
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class Vents:
    """`opening` is the open fraction, 0 (shut) to 1 (wide open); else `change` says which
    way it was moved, nobody knows how far, or "back" to where it stood before."""

    NAME: ClassVar[str] = "vents"
    CARD: ClassVar[str] = "Fire"
    which: Vent
    opening: float | None = None
    change: VentChange | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class Trouble:
    NAME: ClassVar[str] = "trouble"
    CARD: ClassVar[str] = "Trouble"
    kind: TroubleKind
    bird: int | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class TroubleOver:
    """The rain has stopped, the spit turns again: what lasted has come to its end."""

    NAME: ClassVar[str] = "trouble_over"
    CARD: ClassVar[str] = "Trouble"
    kind: EndingKind
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class GrillRead:
    NAME: ClassVar[str] = "grill_reading"
    SHOWN: ClassVar[bool] = True
    temperature: float
    said: Said
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class FuelPut:
    """`vague`: nobody counted, `count` is the usual handful."""

    NAME: ClassVar[str] = "fuel_added"
    SHOWN: ClassVar[bool] = True
    count: float
    kind: FuelKind = "briquettes"
    at_s: float | None = None
    vague: bool | None = None


@dataclass(frozen=True, slots=True)
class WoodPut:
    NAME: ClassVar[str] = "wood_added"
    SHOWN: ClassVar[bool] = True
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class LidOpened:
    NAME: ClassVar[str] = "lid_off"
    SHOWN: ClassVar[bool] = True
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class LidClosed:
    NAME: ClassVar[str] = "lid_on"
    SHOWN: ClassVar[bool] = True
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class FireStarted:
    NAME: ClassVar[str] = "fire_lit"
    SHOWN: ClassVar[bool] = True
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class VentsSet:
    """`change`: only the way was told; `opening` is a quarter from where it stood, or
    where it stood before."""

    NAME: ClassVar[str] = "vents"
    SHOWN: ClassVar[bool] = True
    which: Vent
    opening: float
    change: VentChange | None = None
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class TroubleNoted:
    """`effect` names what it does to the forecasts (see `assistant.cook.rules.trouble`)."""

    NAME: ClassVar[str] = "trouble"
    SHOWN: ClassVar[bool] = True
    kind: TroubleKind
    bird: int | None = None
    effect: str = "none"
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class TroubleEnded:
    NAME: ClassVar[str] = "trouble_over"
    SHOWN: ClassVar[bool] = True
    kind: EndingKind
    at_s: float | None = None


FireCommand = (
    FireLit | LidOff | LidOn | WoodAdded | FuelAdded | Vents | GrillReading | Trouble
    | TroubleOver
)  # fmt: skip
FireEvent = (
    GrillRead | FuelPut | WoodPut | LidOpened | LidClosed | FireStarted | VentsSet
    | TroubleNoted | TroubleEnded
)  # fmt: skip
