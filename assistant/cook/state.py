"""The state of a cook: frozen values, computed only from events.

Times are epoch seconds (`_s`), temperatures degrees Fahrenheit (`_f`), the
scale in which the trade and the public guidance print their limits.
"""

from dataclasses import dataclass, field

from assistant.cook.guidance import POULTRY_F
from assistant.cook.vocabulary.commands import (
    Command,
    FuelKind,
    Scale,
    Side,
    Spot,
    Sugar,
    TroubleKind,
    Vent,
)
from assistant.cook.vocabulary.events import Recorded, Waiting
from assistant.heat.bird.evidence import HeatKind, Kitchen, Span

MOST_BIRDS = 8  # on one spit
UNSPOTTED_S = 1800.0  # common practice, no source
BOTH_SPOTS: tuple[Spot, ...] = ("breast", "thigh")  # where a bird has to be read


@dataclass(frozen=True, slots=True)
class Reading:
    """A core temperature as corrected; `seq` is its event. `confirmed`: asked back and
    insisted on."""

    at_s: float
    temperature_f: float
    seq: int
    spot: Spot | None = None
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class Bird:
    """One piece on the spit, numbered from the motor end."""

    number: int
    kind: str = "chicken"
    mass_kg: float | None = None
    sauce: str | None = None
    sugar: Sugar = "some"
    sauce_mark_f: float = 130.0
    done_mark_f: float = POULTRY_F
    on_heat: tuple[Span, ...] = ()
    readings: tuple[Reading, ...] = ()
    sauced_s: tuple[float, ...] = ()
    doubted: tuple[Reading, ...] = ()  # asked back, each at the coldest it may have been
    off_for_good: bool = False  # lifted off below its mark, and insisted on
    carved_s: float | None = None  # when its carving began

    @property
    def is_on(self) -> bool:
        """On the heat now."""
        return bool(self.on_heat) and self.on_heat[-1].end_s is None

    @property
    def has_been_on(self) -> bool:
        """It was put on the heat at some time."""
        return bool(self.on_heat)

    @property
    def is_plain(self) -> bool:
        """No sauce is wanted for it."""
        return self.sauce == "plain"

    @property
    def open_doubts(self) -> tuple[Reading, ...]:
        """Doubted readings that no later reading of their spot has settled; one of another
        spot than breast or thigh is settled by both of those as well."""
        return tuple(one for one in self.doubted if not self._is_settled(one))

    def _is_settled(self, doubt: Reading) -> bool:
        later = {r.spot for r in self.readings if r.seq > doubt.seq and r.at_s >= doubt.at_s}
        return doubt.spot in later or (doubt.spot not in BOTH_SPOTS and later >= set(BOTH_SPOTS))

    def surely_f(self) -> float | None:
        """The coldest of breast, thigh and the last two spots read, each as last read;
        None unread. A reading without a spot counts as a spot of its own, but not once
        breast or thigh were read half an hour later: it tells nothing of now."""
        latest: dict[Spot | None, float] = {}
        last_s = max((r.at_s for r in self.readings if r.spot in BOTH_SPOTS), default=0.0)
        for reading in reversed(self.readings):
            if reading.spot is not None or reading.at_s > last_s - UNSPOTTED_S:
                latest.setdefault(reading.spot, reading.temperature_f)
        counted = {*list(latest)[:2], *BOTH_SPOTS}
        return min((latest[spot] for spot in latest if spot in counted), default=None)

    def coldest_f(self) -> float | None:
        """The same, with what is in doubt taken at its coldest; None unread."""
        surely_f = self.surely_f()
        if surely_f is None:
            return None
        return min([surely_f, *(one.temperature_f for one in self.open_doubts)])

    @property
    def is_done(self) -> bool:
        """Its coldest spot has reached the done mark, and no doubt is open against it."""
        coldest = self.coldest_f()
        return coldest is not None and coldest >= self.done_mark_f

    @property
    def is_pulled(self) -> bool:
        """Done and off the heat: resting."""
        return self.is_done and self.has_been_on and not self.is_on


@dataclass(frozen=True, slots=True)
class AirRead:
    """A grill temperature; `seq` is its event."""

    at_s: float
    temperature_f: float
    seq: int


@dataclass(frozen=True, slots=True)
class Fuel:
    """Charcoal put on: a number of pieces, or of chimneys."""

    at_s: float
    count: float
    kind: FuelKind


@dataclass(frozen=True, slots=True)
class VentsAt:
    """Open fractions of both vents from `at_s` on; `told`: those that were spoken of."""

    at_s: float
    bottom: float
    top: float
    told: tuple[Vent, ...] = ()


@dataclass(frozen=True, slots=True)
class Fire:
    """The grill: its readings, lid, vents and fuel."""

    band_low_f: float = 350.0
    band_high_f: float = 400.0
    lit_s: float | None = None
    readings: tuple[AirRead, ...] = ()
    lid_open: tuple[Span, ...] = ()
    fuel: tuple[Fuel, ...] = ()
    wood_s: tuple[float, ...] = ()
    vents: tuple[VentsAt, ...] = ()

    @property
    def lid_is_off(self) -> bool:
        """The lid is off now."""
        return bool(self.lid_open) and self.lid_open[-1].end_s is None


@dataclass(frozen=True, slots=True)
class Timer:
    """A reminder the cook asked for; `for_dinner`: it moves with the serving time."""

    number: int
    set_s: float
    due_s: float
    name: str | None = None
    for_dinner: bool = False


@dataclass(frozen=True, slots=True)
class PromptRecord:
    """What became of a prompt: when it was said, and the cook's answer; `done`: done as
    well, by the cook's word."""

    key: str
    said_s: tuple[float, ...] = ()
    acknowledged_s: float | None = None
    snoozed_until_s: float | None = None
    done: bool = False


@dataclass(frozen=True, slots=True)
class Pending:
    """An open ask-back."""

    asked_s: float
    options: tuple[Command, ...]
    why: str
    seq: int = 0  # of the event that opened it
    clock_s: float | None = None  # where it is about the computer's clock
    later: tuple[Waiting, ...] = ()  # to be asked after it


@dataclass(frozen=True, slots=True)
class Trouble:
    """Something that went wrong, when, and until when where its end was told."""

    at_s: float
    kind: TroubleKind
    bird: int | None
    ended_s: float | None = None


@dataclass(frozen=True, slots=True)
class Cook:
    """A whole session from fire to table.

    `recent` holds the last events and `anchor` the state before the first of
    them, so that an undo or a correction folds again only what came after.
    """

    began_s: float | None = None
    ended_s: float | None = None
    zone: str = "UTC"
    scale: Scale = "F"
    kind: str = "chicken"
    heat: HeatKind = "charcoal spit"
    altitude_m: float = 0.0
    outside_f: float = 68.0
    sauces: tuple[tuple[str, Sugar], ...] = ()
    sauce_mark_f: float = 130.0
    done_mark_f: float = POULTRY_F
    expected_birds: int | None = None
    motor_side: Side | None = None  # the hand on which the cook has it
    birds: tuple[Bird, ...] = ()
    fire: Fire = field(default_factory=Fire)
    serve_s: float | None = None
    timers: tuple[Timer, ...] = ()
    prompts: tuple[PromptRecord, ...] = ()
    pending: Pending | None = None
    troubles: tuple[Trouble, ...] = ()
    readiness: int | None = None  # item the list stands at; None: not started
    correction_f: float = 0.0  # of the hand-held thermometer
    checked_s: float | None = None  # when it was last checked
    asleep: bool = False
    volume: int = 0
    kitchen: Kitchen = field(default_factory=Kitchen)
    last_heard: str | None = None
    heard_s: float | None = None
    boot: str | None = None  # the computer's boot, and when it was by this cook's time
    booted_s: float | None = None
    seq: int = 0
    at_s: float = 0.0
    recent: tuple[Recorded, ...] = ()
    anchor: "Cook | None" = None

    @property
    def tonight(self) -> int:
        """How many birds tonight: those expected, or told of; 0 while nobody said."""
        return max([self.expected_birds or 0, *(bird.number for bird in self.birds)])

    def bird(self, number: int) -> Bird | None:
        """That bird, or None if nothing was said of it."""
        return next((bird for bird in self.birds if bird.number == number), None)

    @property
    def is_running(self) -> bool:
        """Begun and not ended."""
        return self.began_s is not None and self.ended_s is None

    @property
    def cooking(self) -> tuple[Bird, ...]:
        """Birds that have been on the heat and are not yet done and off it, nor off for good."""
        return tuple(
            bird
            for bird in self.birds
            if bird.has_been_on and not bird.is_pulled and not bird.off_for_good
        )
