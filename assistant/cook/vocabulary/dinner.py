"""Dinner and timers: what is said of them, and what becomes a fact."""

from dataclasses import dataclass
from typing import ClassVar

from assistant.cook.vocabulary.terms import Day


@dataclass(frozen=True, slots=True)
class ServeAt:
    """Clock time on the 24-hour dial as spoken: `time` is minutes after midnight,
    and `vague` says that "six thirty" may be morning or evening. `day` None: the next
    such time to come."""

    NAME: ClassVar[str] = "serve_at"
    CARD: ClassVar[str] = "Before the fire"
    time: int
    vague: bool = True
    day: Day | None = None


@dataclass(frozen=True, slots=True)
class ServeIn:
    NAME: ClassVar[str] = "serve_in"
    CARD: ClassVar[str] = "Before the fire"
    minutes: float


@dataclass(frozen=True, slots=True)
class Hold:
    """Late guests: keep dinner back by `minutes`."""

    NAME: ClassVar[str] = "hold"
    CARD: ClassVar[str] = "Before the fire"
    minutes: float | None = None


@dataclass(frozen=True, slots=True)
class TimerSet:
    NAME: ClassVar[str] = "timer_set"
    CARD: ClassVar[str] = "Timers and answers"
    minutes: float
    name: str | None = None


@dataclass(frozen=True, slots=True)
class TimerCancel:
    NAME: ClassVar[str] = "timer_cancel"
    CARD: ClassVar[str] = "Timers and answers"
    name: str | None = None


@dataclass(frozen=True, slots=True)
class ServeSet:
    """Serving time, seconds since the epoch."""

    NAME: ClassVar[str] = "serve_at"
    SHOWN: ClassVar[bool] = True
    serve_s: float


@dataclass(frozen=True, slots=True)
class Held:
    """Dinner put back; `serve_s` is the new serving time."""

    NAME: ClassVar[str] = "hold"
    SHOWN: ClassVar[bool] = True
    minutes: float
    serve_s: float | None = None


@dataclass(frozen=True, slots=True)
class TimerStarted:
    """`for_dinner`: a side dish of the plan, which moves with the serving time."""

    NAME: ClassVar[str] = "timer_set"
    SHOWN: ClassVar[bool] = True
    due_s: float
    minutes: float
    name: str | None = None
    for_dinner: bool | None = None


@dataclass(frozen=True, slots=True)
class TimerCancelled:
    NAME: ClassVar[str] = "timer_cancel"
    SHOWN: ClassVar[bool] = True
    number: int
    name: str | None = None


DinnerCommand = ServeAt | ServeIn | Hold | TimerSet | TimerCancel
DinnerEvent = ServeSet | Held | TimerStarted | TimerCancelled
