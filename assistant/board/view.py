"""What the board is shown: one immutable snapshot of a cook."""

from dataclasses import dataclass
from typing import Literal

from assistant.cook.state import Cook
from assistant.heat.bird.evidence import BirdForecast, Forecast, Quantiles

DueUrgency = Literal["now", "soon", "convenient"]


@dataclass(frozen=True, slots=True)
class Due:
    """Something to do at `at_s` (epoch seconds); `text` is printed as it stands, `sign`
    says it in capitals short enough to be drawn large."""

    at_s: float
    text: str
    urgency: DueUrgency = "convenient"
    sign: str = ""


@dataclass(frozen=True, slots=True)
class BoardView:
    """Everything the board shows, at `now_s` (epoch seconds).

    Forecast times are epoch seconds too. `due` holds open and coming prompts in
    any order; `question` is the printed form of an open ask-back; `notice` is a
    fault that must stay in sight, such as a lost microphone; `level` is a bar of how
    loud the microphone hears. `fire_help`: what may help the fire, for the cook who looks;
    nobody says it. `missed`: why what was heard last was not taken.
    """

    cook: Cook
    now_s: float
    forecast: Forecast | None = None
    fire_leaves: Quantiles | None = None
    fire_help: str = ""
    due: tuple[Due, ...] = ()
    heard: str | None = None
    said: str | None = None
    question: str | None = None
    notice: str | None = None
    level: str | None = None
    missed: str | None = None

    def forecast_of(self, number: int) -> BirdForecast | None:
        """The forecast of bird `number`, or None."""
        birds = self.forecast.birds if self.forecast else ()
        return next((bird for bird in birds if bird.number == number), None)

    def coming(self) -> tuple[Due, ...]:
        """What is due, most pressing first: what is due already by urgency, then by time."""
        rank = {"now": 0, "soon": 1, "convenient": 2}
        return tuple(
            sorted(
                self.due,
                key=lambda due: (
                    max(due.at_s, self.now_s),
                    rank[due.urgency],
                    due.at_s,
                    due.text,
                ),
            )
        )
