"""Prompts: one class for each thing that can be due, and how much it matters."""

from dataclasses import dataclass
from typing import ClassVar, Literal, Self, get_args

from assistant.cook.vocabulary.commands import Spot
from assistant.heat.bird.evidence import Quantiles

Urgency = Literal["now", "soon", "convenient"]


@dataclass(frozen=True, slots=True)
class TakeOff:
    """The bird has read its done mark."""

    KIND: ClassVar[str] = "take_off"
    bird: int


@dataclass(frozen=True, slots=True)
class Sauce:
    """The bird has read its sauce mark."""

    KIND: ClassVar[str] = "sauce"
    bird: int


@dataclass(frozen=True, slots=True)
class SauceLast:
    """Later, the sauce would not set before the bird is done."""

    KIND: ClassVar[str] = "sauce_last"
    bird: int


@dataclass(frozen=True, slots=True)
class Coat:
    """A second coat would still set."""

    KIND: ClassVar[str] = "coat"
    bird: int


@dataclass(frozen=True, slots=True)
class BackOn:
    """The bird has been off as long as saucing takes."""

    KIND: ClassVar[str] = "back_on"
    bird: int


@dataclass(frozen=True, slots=True)
class OffRaw:
    """The bird is off for long and was never read at its mark."""

    KIND: ClassVar[str] = "off_raw"
    bird: int


@dataclass(frozen=True, slots=True)
class Stuck:
    """The bird has hardly moved for long."""

    KIND: ClassVar[str] = "stuck"
    bird: int


@dataclass(frozen=True, slots=True)
class KeepHot:
    """The bird has rested and waits for the others."""

    KIND: ClassVar[str] = "keep_hot"
    bird: int


@dataclass(frozen=True, slots=True)
class LookDue:
    """A reading is worth an open lid; `reason` as in `assistant.heat.bird.evidence.Look`."""

    KIND: ClassVar[str] = "look"
    bird: int
    reason: str


@dataclass(frozen=True, slots=True)
class Reread:
    """A doubted reading that nobody settled holds something back."""

    KIND: ClassVar[str] = "reread"
    bird: int
    spot: Spot | None


@dataclass(frozen=True, slots=True)
class Unread:
    """The bird is off at its mark with these spots unread."""

    KIND: ClassVar[str] = "unread"
    bird: int
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Doubt:
    """A doubted thermometer goes on reading birds unchecked."""

    KIND: ClassVar[str] = "doubt"


@dataclass(frozen=True, slots=True)
class EndRaw:
    """The cook was to end with a bird below its mark; the question stands."""

    KIND: ClassVar[str] = "end_raw"


@dataclass(frozen=True, slots=True)
class LiftAsked:
    """A bird was lifted off below its mark; the question whether for good stands."""

    KIND: ClassVar[str] = "lift"


@dataclass(frozen=True, slots=True)
class ClockAsked:
    """How long the program was away; the question about the clock stands."""

    KIND: ClassVar[str] = "clock"


@dataclass(frozen=True, slots=True)
class LidOpen:
    """The lid has been off for long."""

    KIND: ClassVar[str] = "lid"


@dataclass(frozen=True, slots=True)
class Refuel:
    """The fire may sag: `count` briquettes; `out_s`: when it leaves its band, epoch seconds."""

    KIND: ClassVar[str] = "refuel"
    count: int
    out_s: float


@dataclass(frozen=True, slots=True)
class TurnVent:
    """The fire may leave its band at `out_s`, epoch seconds: "open" or "close" the bottom
    vent by this share of its travel."""

    KIND: ClassVar[str] = "vents"
    direction: Literal["open", "close"]
    by: float
    out_s: float


@dataclass(frozen=True, slots=True)
class VentsUntold:
    """Nobody told how far open the vents are, and now it matters."""

    KIND: ClassVar[str] = "vents_ask"


@dataclass(frozen=True, slots=True)
class GrillUnread:
    """Nobody told the grill's temperature for long."""

    KIND: ClassVar[str] = "grill"


@dataclass(frozen=True, slots=True)
class DinnerMoved:
    """Dinner is `late_min` late (negative: early), on the table at `table`, epoch seconds;
    `sooner` than was told before."""

    KIND: ClassVar[str] = "dinner"
    late_min: int
    table: Quantiles
    open_vent: bool
    sooner: bool = False


@dataclass(frozen=True, slots=True)
class ListDue:
    """Time for the readiness list."""

    KIND: ClassVar[str] = "readiness"


@dataclass(frozen=True, slots=True)
class LightDue:
    """Time to light the charcoal; too late for the serving time, dinner moves to
    `table_s`, epoch seconds."""

    KIND: ClassVar[str] = "light"
    table_s: float | None = None


@dataclass(frozen=True, slots=True)
class BirdsOnDue:
    """Time for the birds over the fire."""

    KIND: ClassVar[str] = "birds_on"
    birds: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Carve:
    """All have rested."""

    KIND: ClassVar[str] = "carve"
    birds: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Chill:
    """Leftovers into the cold by `by_s`, epoch seconds."""

    KIND: ClassVar[str] = "chill"
    by_s: float


@dataclass(frozen=True, slots=True)
class TimerUp:
    """A timer the cook set."""

    KIND: ClassVar[str] = "timer"
    name: str | None


OfBird = (
    TakeOff | Sauce | SauceLast | Coat | BackOn | OffRaw | Stuck | KeepHot | LookDue | Reread
    | Unread
)  # fmt: skip
About = (
    OfBird | Doubt | EndRaw | LiftAsked | LidOpen | Refuel | TurnVent | VentsUntold | GrillUnread
    | DinnerMoved | ListDue | LightDue | BirdsOnDue | Carve | Chill | TimerUp | ClockAsked
)  # fmt: skip
_OF_BIRD = frozenset(kind.KIND for kind in get_args(OfBird))


@dataclass(frozen=True, slots=True)
class Key:
    """What names a prompt: its kind, its bird, and the facts it `rests` on (how many
    readings the bird had, which fuel came last). A new fact makes a new key, so an old
    prompt falls silent by itself. Journals hold it as text."""

    kind: str
    bird: int | None = None
    rests: tuple[str, ...] = ()

    @property
    def text(self) -> str:
        """The key as a journal holds it: "take_off:2:17:1"."""
        bird = () if self.bird is None else (str(self.bird),)
        return ":".join((self.kind, *bird, *self.rests))

    @classmethod
    def read(cls, text: str) -> Self:
        """The key that a journal holds; the one place where it is taken apart."""
        kind, *rests = text.split(":")
        if kind in _OF_BIRD and rests and rests[0].isdigit():
            return cls(kind, int(rests[0]), tuple(rests[1:]))
        return cls(kind, None, tuple(rests))


@dataclass(frozen=True, slots=True)
class Prompt:
    """Something due at `due_s` (epoch seconds), for the facts it `rests` on.

    `said`: how often it has been said already. `early`: it may come
    up to three minutes before it is due, to be said with another. `at_once`: a reading
    just made it due, so it does not wait for the next reading.
    """

    about: About
    rests: tuple[str, ...]
    urgency: Urgency
    due_s: float
    said: int = 0
    early: bool = True
    at_once: bool = False

    @property
    def kind(self) -> str:
        """What is due, by name."""
        return self.about.KIND

    @property
    def bird(self) -> int | None:
        """The bird it is about, if it is one bird."""
        return self.about.bird if isinstance(self.about, OfBird) else None

    @property
    def key(self) -> str:
        """What names it in a journal."""
        return Key(self.kind, self.bird, self.rests).text
