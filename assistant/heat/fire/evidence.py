"""What the fire's forecaster is told. Seconds on one axis, degrees Celsius, kilograms."""

from dataclasses import dataclass, field

from assistant.heat.bird.evidence import AirReading, Kitchen, Span
from assistant.heat.degrees import celsius


@dataclass(frozen=True, slots=True)
class FuelLoad:
    """Fuel put on: `count` pieces, or chimneys full of ash-covered ones."""

    at_s: float
    count: float
    kind: str = "briquettes"  # "briquettes", "lump", "chimney"


@dataclass(frozen=True, slots=True)
class VentsMoved:
    """Open fractions, 0 to 1, from `at_s` on; None: nobody told."""

    at_s: float
    bottom: float | None
    top: float | None


@dataclass(frozen=True, slots=True)
class BirdLoad:
    """A bird that takes heat while it is on."""

    mass_kg: float
    on_heat: tuple[Span, ...]


@dataclass(frozen=True, slots=True)
class Chill:
    """Weather on the grill while it lasts: more is lost, as if it were `colder_c` kelvin
    colder outside; `gusty`: the draught is less sure as well."""

    span: Span
    colder_c: float
    gusty: bool = False


@dataclass(frozen=True, slots=True)
class FireEvidence:
    """Everything recorded that bears on the fire. `advised`: when the cook was last told
    what to do with it, and what ("add", "open", "close"), so that the next does not
    contradict it. `vents_asked`: the cook was asked how the vents stand."""

    readings: tuple[AirReading, ...] = ()
    fuel: tuple[FuelLoad, ...] = ()
    lit_s: float | None = None
    lid_open: tuple[Span, ...] = ()
    vents: tuple[VentsMoved, ...] = ()
    birds: tuple[BirdLoad, ...] = ()
    band_c: tuple[float, float] = (celsius(350.0), celsius(400.0))
    outside_c: float = 20.0
    weather: tuple[Chill, ...] = ()
    kitchen: Kitchen = field(default_factory=Kitchen)
    advised: tuple[float, str] | None = None
    vents_asked: bool = False
