"""The birds: what is said of them, and what becomes a fact. Birds count from 1 at the motor end.

`at_s` of an event: when it happened, epoch seconds, where that was before it was told.
"""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.terms import Earlier, Said, Side, SkinState, Spot, Sugar


@dataclass(frozen=True, slots=True)
class BirdReading:
    NAME: ClassVar[str] = "bird_reading"
    CARD: ClassVar[str] = "Readings and birds"
    bird: int
    temperature: float
    said: Said
    spot: Spot | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class BirdWeight:
    """Either pounds (with ounces) or kilograms is set."""

    NAME: ClassVar[str] = "bird_weight"
    CARD: ClassVar[str] = "Before the fire"
    bird: int
    pounds: float | None = None
    ounces: float | None = None
    kilograms: float | None = None


@dataclass(frozen=True, slots=True)
class BirdSauce:
    """`sauce` is the lower-case name, or "plain" for a bird without sauce."""

    NAME: ClassVar[str] = "bird_sauce"
    CARD: ClassVar[str] = "Before the fire"
    bird: int
    sauce: str


@dataclass(frozen=True, slots=True)
class BirdSkin:
    """Whether the bird has its skin."""

    NAME: ClassVar[str] = "bird_skin"
    CARD: ClassVar[str] = "Before the fire"
    bird: int
    skin: SkinState


@dataclass(frozen=True, slots=True)
class BirdsOn:
    NAME: ClassVar[str] = "birds_on"
    CARD: ClassVar[str] = "Readings and birds"
    bird: int | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class BirdsOff:
    NAME: ClassVar[str] = "birds_off"
    CARD: ClassVar[str] = "Readings and birds"
    bird: int | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class Sauced:
    NAME: ClassVar[str] = "sauced"
    CARD: ClassVar[str] = "Readings and birds"
    bird: int | None = None
    when: Earlier | None = None


@dataclass(frozen=True, slots=True)
class Rest:
    """Off the spit to rest; no bird: all that are on."""

    NAME: ClassVar[str] = "rest"
    CARD: ClassVar[str] = "Readings and birds"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class Carve:
    """The carving has begun; no bird: of all that are off."""

    NAME: ClassVar[str] = "carve"
    CARD: ClassVar[str] = "Readings and birds"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class MotorSide:
    """On which hand the cook has the motor, and with it bird one."""

    NAME: ClassVar[str] = "motor_side"
    CARD: ClassVar[str] = "The program"
    side: Side


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
    at_s: float | None = None


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
class SkinTold:
    """It bears on no forecast: skinless meat both dries and browns sooner, and what that
    does to its core nobody has published for a spit."""

    NAME: ClassVar[str] = "bird_skin"
    SHOWN: ClassVar[bool] = True
    bird: int
    skin: SkinState


@dataclass(frozen=True, slots=True)
class BirdOn:
    """One event a bird, also when all were put on together."""

    NAME: ClassVar[str] = "birds_on"
    SHOWN: ClassVar[bool] = True
    bird: int
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class BirdOff:
    """`for_good`: asked, below its mark, and insisted on."""

    NAME: ClassVar[str] = "birds_off"
    SHOWN: ClassVar[bool] = True
    bird: int
    for_good: bool = False
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class BirdSauced:
    NAME: ClassVar[str] = "sauced"
    SHOWN: ClassVar[bool] = True
    bird: int
    at_s: float | None = None


@dataclass(frozen=True, slots=True)
class Carved:
    """One event a bird: its carving began."""

    NAME: ClassVar[str] = "carve"
    SHOWN: ClassVar[bool] = True
    bird: int


@dataclass(frozen=True, slots=True)
class MotorSideTold:
    NAME: ClassVar[str] = "motor_side"
    SHOWN: ClassVar[bool] = True
    side: Side


BirdCommand = (
    BirdReading | BirdWeight | BirdSauce | BirdSkin | BirdsOn | BirdsOff | Sauced | Carve | Rest
    | MotorSide
)  # fmt: skip
BirdEvent = (
    BirdRead | BirdWeighed | SauceAssigned | SkinTold | BirdOn | BirdOff | BirdSauced | Carved
    | MotorSideTold
)  # fmt: skip
