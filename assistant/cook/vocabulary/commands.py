"""Commands: what a cook can say, as frozen values.

One class per command. `NAME` is the name used in JSON and in the journal; the
fields are the slots, spelled as in the command-line contract. Temperatures are
degrees Fahrenheit as recorded; `Said` keeps the number and scale spoken.
Birds count from 1 at the motor end.
"""

from dataclasses import dataclass
from typing import ClassVar, Literal

Scale = Literal["F", "C"]
Spot = Literal["breast", "thigh", "wing"]
FuelKind = Literal["briquettes", "lump", "chimney"]
Vent = Literal["bottom", "top", "both"]
TroubleKind = Literal[
    "wing_loose", "leg_loose", "flare_up", "spit_stopped", "drip_pan_full",
    "fire_dying", "rain", "bird_stuck", "thermometer_doubted",
]  # fmt: skip
Bath = Literal["ice", "boiling"]
Sugar = Literal["none", "some", "high"]
Mark = Literal["sauce", "done"]
Day = Literal[
    "today", "tomorrow", "monday", "tuesday", "wednesday", "thursday", "friday", "saturday",
    "sunday",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Said:
    """A number as it was spoken and the scale it was meant in."""

    number: float
    scale: Scale


@dataclass(frozen=True, slots=True)
class BirdReading:
    NAME: ClassVar[str] = "bird_reading"
    bird: int
    temperature: float
    said: Said
    spot: Spot | None = None


@dataclass(frozen=True, slots=True)
class GrillReading:
    NAME: ClassVar[str] = "grill_reading"
    temperature: float
    said: Said


@dataclass(frozen=True, slots=True)
class BirdWeight:
    """Either pounds (with ounces) or kilograms is set."""

    NAME: ClassVar[str] = "bird_weight"
    bird: int
    pounds: float | None = None
    ounces: float | None = None
    kilograms: float | None = None


@dataclass(frozen=True, slots=True)
class BirdSauce:
    """`sauce` is the lower-case name, or "plain" for a bird without sauce."""

    NAME: ClassVar[str] = "bird_sauce"
    bird: int
    sauce: str


@dataclass(frozen=True, slots=True)
class BirdsOn:
    NAME: ClassVar[str] = "birds_on"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class BirdsOff:
    NAME: ClassVar[str] = "birds_off"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class Sauced:
    NAME: ClassVar[str] = "sauced"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class FuelAdded:
    NAME: ClassVar[str] = "fuel_added"
    count: float
    kind: FuelKind | None = None


@dataclass(frozen=True, slots=True)
class WoodAdded:
    NAME: ClassVar[str] = "wood_added"


@dataclass(frozen=True, slots=True)
class LidOff:
    NAME: ClassVar[str] = "lid_off"


@dataclass(frozen=True, slots=True)
class LidOn:
    NAME: ClassVar[str] = "lid_on"


@dataclass(frozen=True, slots=True)
class FireLit:
    NAME: ClassVar[str] = "fire_lit"


@dataclass(frozen=True, slots=True)
class Vents:
    """`opening` is the open fraction, 0 (shut) to 1 (wide open)."""

    NAME: ClassVar[str] = "vents"
    which: Vent
    opening: float


@dataclass(frozen=True, slots=True)
class ServeAt:
    """Clock time on the 24-hour dial as spoken: `time` is minutes after midnight,
    and `vague` says that "six thirty" may be morning or evening. `day` None: the next
    such time to come."""

    NAME: ClassVar[str] = "serve_at"
    time: int
    vague: bool = True
    day: Day | None = None


@dataclass(frozen=True, slots=True)
class ServeIn:
    NAME: ClassVar[str] = "serve_in"
    minutes: float


@dataclass(frozen=True, slots=True)
class TimerSet:
    NAME: ClassVar[str] = "timer_set"
    minutes: float
    name: str | None = None


@dataclass(frozen=True, slots=True)
class TimerCancel:
    NAME: ClassVar[str] = "timer_cancel"
    name: str | None = None


@dataclass(frozen=True, slots=True)
class Acknowledge:
    NAME: ClassVar[str] = "acknowledge"


@dataclass(frozen=True, slots=True)
class Snooze:
    NAME: ClassVar[str] = "snooze"
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class AskWhen:
    NAME: ClassVar[str] = "ask_when"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskNext:
    NAME: ClassVar[str] = "ask_next"


@dataclass(frozen=True, slots=True)
class AskElapsed:
    NAME: ClassVar[str] = "ask_elapsed"


@dataclass(frozen=True, slots=True)
class AskLast:
    NAME: ClassVar[str] = "ask_last"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskFire:
    NAME: ClassVar[str] = "ask_fire"


@dataclass(frozen=True, slots=True)
class AskSauce:
    """Which sauce, of one bird or of all."""

    NAME: ClassVar[str] = "ask_sauce"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskLeft:
    """How many birds are still cooking."""

    NAME: ClassVar[str] = "ask_left"


@dataclass(frozen=True, slots=True)
class AskWhy:
    """The reason for the last prompt, or what a bird's spread comes from."""

    NAME: ClassVar[str] = "ask_why"
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class AskHeard:
    """What did I say: the last words understood."""

    NAME: ClassVar[str] = "ask_heard"


@dataclass(frozen=True, slots=True)
class AskHelp:
    """What can I say, here and now."""

    NAME: ClassVar[str] = "ask_help"


@dataclass(frozen=True, slots=True)
class AskWhatIf:
    """What if the grill runs at `temperature`; without one: what if I sauce now."""

    NAME: ClassVar[str] = "ask_what_if"
    temperature: float | None = None
    said: Said | None = None


@dataclass(frozen=True, slots=True)
class Correct:
    """Replace the temperature of the last reading."""

    NAME: ClassVar[str] = "correct"
    temperature: float | None = None
    said: Said | None = None


@dataclass(frozen=True, slots=True)
class Undo:
    NAME: ClassVar[str] = "undo"


@dataclass(frozen=True, slots=True)
class Repeat:
    NAME: ClassVar[str] = "repeat"


@dataclass(frozen=True, slots=True)
class Yes:
    NAME: ClassVar[str] = "yes"


@dataclass(frozen=True, slots=True)
class No:
    NAME: ClassVar[str] = "no"


@dataclass(frozen=True, slots=True)
class Choose:
    """Answer to an ask-back by place: 1 is "first", 2 "second"."""

    NAME: ClassVar[str] = "choose"
    place: int


@dataclass(frozen=True, slots=True)
class Number:
    """A bare number, as an answer to an ask-back or a readiness question."""

    NAME: ClassVar[str] = "number"
    temperature: float
    said: Said


@dataclass(frozen=True, slots=True)
class Trouble:
    NAME: ClassVar[str] = "trouble"
    kind: TroubleKind
    bird: int | None = None


@dataclass(frozen=True, slots=True)
class Hold:
    """Late guests: keep dinner back by `minutes`."""

    NAME: ClassVar[str] = "hold"
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class ReadinessStart:
    NAME: ClassVar[str] = "readiness_start"


@dataclass(frozen=True, slots=True)
class ItemDone:
    """ "Done" to a readiness item."""

    NAME: ClassVar[str] = "item_done"


@dataclass(frozen=True, slots=True)
class ItemSkip:
    NAME: ClassVar[str] = "item_skip"


@dataclass(frozen=True, slots=True)
class ItemBack:
    NAME: ClassVar[str] = "item_back"


@dataclass(frozen=True, slots=True)
class ThermometerCheck:
    """What the hand-held thermometer reads in ice water or boiling water."""

    NAME: ClassVar[str] = "thermometer_check"
    bath: Bath
    temperature: float
    said: Said


@dataclass(frozen=True, slots=True)
class StartCook:
    NAME: ClassVar[str] = "start_cook"


@dataclass(frozen=True, slots=True)
class EndCook:
    NAME: ClassVar[str] = "end_cook"


@dataclass(frozen=True, slots=True)
class Sleep:
    NAME: ClassVar[str] = "sleep"


@dataclass(frozen=True, slots=True)
class Wake:
    NAME: ClassVar[str] = "wake"


@dataclass(frozen=True, slots=True)
class Quieter:
    NAME: ClassVar[str] = "quieter"


@dataclass(frozen=True, slots=True)
class Louder:
    NAME: ClassVar[str] = "louder"


@dataclass(frozen=True, slots=True)
class Hush:
    """ "Quiet": stop the speech that is playing; nothing is recorded."""

    NAME: ClassVar[str] = "hush"


@dataclass(frozen=True, slots=True)
class AwayFor:
    """How long the program was away, where the computer's clock could not tell."""

    NAME: ClassVar[str] = "away_for"
    minutes: float


# Which rules decide a command: each set has one exhaustive function in `assistant.cook`.
BirdCommand = BirdReading | GrillReading | BirdWeight | BirdSauce | BirdsOn | BirdsOff | Sauced
FireCommand = FuelAdded | WoodAdded | LidOff | LidOn | FireLit | Vents | Trouble
TimeCommand = ServeAt | ServeIn | Hold | TimerSet | TimerCancel
ListCommand = ReadinessStart | ItemSkip | ItemBack | ThermometerCheck
Question = (
    AskWhen | AskNext | AskElapsed | AskLast | AskFire | AskSauce | AskLeft | AskWhy
    | AskHeard | AskHelp | AskWhatIf
)  # fmt: skip
TalkCommand = (
    Acknowledge | ItemDone | Snooze | Correct | Undo | Repeat | Yes | No | Choose | Number
    | StartCook | EndCook | Sleep | Wake | Quieter | Louder | Hush | AwayFor
)  # fmt: skip
# What a talk command does: become a fact, or not; a fact is read back.
TalkFact = (
    Acknowledge | ItemDone | Snooze | Correct | Undo | No | EndCook | Sleep | Wake
    | Quieter | Louder
)  # fmt: skip
Factual = BirdCommand | FireCommand | TimeCommand | ListCommand | TalkFact
Command = BirdCommand | FireCommand | TimeCommand | ListCommand | Question | TalkCommand
