"""The readiness list before the fire: what is said to it, and what becomes a fact."""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.terms import Bath, Said


@dataclass(frozen=True, slots=True)
class ReadinessStart:
    NAME: ClassVar[str] = "readiness_start"
    CARD: ClassVar[str] = "Before the fire"


@dataclass(frozen=True, slots=True)
class ItemSkip:
    NAME: ClassVar[str] = "item_skip"
    CARD: ClassVar[str] = "Before the fire"


@dataclass(frozen=True, slots=True)
class ItemBack:
    NAME: ClassVar[str] = "item_back"
    CARD: ClassVar[str] = "Before the fire"


@dataclass(frozen=True, slots=True)
class ThermometerCheck:
    """What the hand-held thermometer reads in ice water or boiling water."""

    NAME: ClassVar[str] = "thermometer_check"
    CARD: ClassVar[str] = "Before the fire"
    bath: Bath
    temperature: float
    said: Said


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


ListCommand = ReadinessStart | ItemSkip | ItemBack | ThermometerCheck
ListEvent = ReadinessMoved | ThermometerChecked
