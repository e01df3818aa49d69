"""Facts that are not yet commands: something in them was left unsaid, or they only
tell. They carry the names and slots of the command-line contract."""

from dataclasses import asdict, dataclass
from typing import Any, ClassVar, Literal

from assistant.cook.vocabulary.commands import Command, Said, Spot, Vent


@dataclass(frozen=True, slots=True)
class OpenReading:
    """A reading of a bird nobody named."""

    NAME: ClassVar[str] = "bird_reading"
    temperature: float
    said: Said
    spot: Spot | None = None
    bird: None = None


@dataclass(frozen=True, slots=True)
class OpenFuel:
    """Charcoal nobody counted."""

    NAME: ClassVar[str] = "fuel_added"
    count: None = None


@dataclass(frozen=True, slots=True)
class VentsChanged:
    """Vents moved by nobody knows how much."""

    NAME: ClassVar[str] = "vents"
    which: Vent
    change: Literal["more", "less"]


@dataclass(frozen=True, slots=True)
class CorrectBird:
    """The last reading was of another bird; with `said`, and had another number."""

    NAME: ClassVar[str] = "correct"
    bird: int
    temperature: float | None = None
    said: Said | None = None


@dataclass(frozen=True, slots=True)
class Rest:
    """A bird, or all of them, rests."""

    NAME: ClassVar[str] = "rest"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class Carve:
    """The carving begins."""

    NAME: ClassVar[str] = "carve"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskTime:
    """What time of day it is."""

    NAME: ClassVar[str] = "ask_time"


@dataclass(frozen=True, slots=True)
class OtherTrouble:
    """Trouble beside the kinds that have advice of their own."""

    NAME: ClassVar[str] = "trouble"
    kind: Literal["fire_too_hot", "burning"]
    bird: int | None = None


Fact = (
    Command | OpenReading | OpenFuel | VentsChanged | CorrectBird | Rest | Carve | AskTime
    | OtherTrouble
)  # fmt: skip


def fact_json(fact: Fact) -> dict[str, Any]:
    """A fact's name and slots. A slot left unsaid that will be asked is null."""
    slots = asdict(fact)
    asked = {"bird_reading": "bird", "fuel_added": "count"}.get(fact.NAME)
    return {
        "command": fact.NAME,
        "slots": {
            name: value for name, value in slots.items() if value is not None or name == asked
        },
    }
