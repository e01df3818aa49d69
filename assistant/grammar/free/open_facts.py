"""Facts that are not yet commands: something in them was left unsaid, or they only
tell. They carry the names and slots of the command-line contract."""

from dataclasses import asdict, dataclass
from typing import Any, ClassVar

from assistant.cook.vocabulary.commands import Command, Said, Spot


@dataclass(frozen=True, slots=True)
class OpenReading:
    """A reading of a bird nobody named."""

    NAME: ClassVar[str] = "bird_reading"
    temperature: float
    said: Said
    spot: Spot | None = None
    bird: None = None


Fact = Command | OpenReading


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
