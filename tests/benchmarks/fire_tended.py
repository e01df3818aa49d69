"""Evenings with the fire tended: how much is said, and how long it is out of its band:
`python -m tests.benchmarks.fire_tended [--count N]`.

One kettle an evening, the same for every cook. Each reads the dial every 12 to 20 minutes
and tells it. One tends nothing; one does at once what is said, and never looks; one also
glances at the board every 10 to 15 minutes, hands free seven times of ten; one also looks
as he tells the dial, standing before it. As a baseline, one who obeys advice at every
reading (the doses and vent openings of before, tests/benchmarks/fire_always.py). Glances,
free hands and dials are an assumption, no source.
"""

import argparse
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from assistant.cook.rules.due_fire import FRESH_S
from assistant.heat.bird.evidence import AirReading, Span
from assistant.heat.fire.advice import WORD_APART_S
from assistant.heat.fire.evidence import BirdLoad, FireEvidence, FuelLoad, VentsMoved
from assistant.heat.fire.filter import estimate
from assistant.heat.fire.forecast import fire_forecast
from assistant.heat.fire.suggest import Advice
from tests.benchmarks import fire_always
from tests.heat.fire.fire_evening import END_S, ON_S, STEP_S, Evening

Cook = Literal["tends nothing", "voice alone", "glances too", "looks as he tells it too", "before"]
COOKS: tuple[Cook, ...] = (
    "tends nothing", "voice alone", "glances too", "looks as he tells it too", "before",
)  # fmt: skip
FIRST_S = 2400.0  # the first dial
DIAL_SD_C = 4.0
DIALS_S, GLANCES_S = (720.0, 1200.0), (600.0, 900.0)
FREE = 0.7
STEADY_C, STEADY_S = 5.0, 1200.0
HOURS = (END_S - ON_S) / 3600.0


@dataclass
class Tended:
    """What became of one evening."""

    said: int = 0
    said_steady: int = 0
    done: int = 0
    cold_min: float = 0.0
    hot_min: float = 0.0

    @property
    def out_min(self) -> float:
        return self.cold_min + self.hot_min


class Tending:
    """One cook at one kettle, from the match to dinner at 2 h 45 min."""

    def __init__(self, evening: int, cook: Cook) -> None:
        self.cook, self.grill, self.found = cook, Evening(evening), Tended()
        self.dial, self.eye = (
            np.random.default_rng(evening),
            np.random.default_rng(70_000 + evening),
        )
        birds = (BirdLoad(1.7, (Span(ON_S),)), BirdLoad(1.7, (Span(ON_S),)))
        self.known = FireEvidence(lit_s=0.0, fuel=(FuelLoad(0.0, self.grill.count),), birds=birds)
        if evening % 2 or cook == "before":  # the advice of before took them as half open
            self.known = replace(self.known, vents=(VentsMoved(0.0, 0.5, 0.5),))
        self.shown: Advice | None = None

    def run(self) -> Tended:
        dial_s, glance_s = FIRST_S, FIRST_S + float(self.eye.uniform(0.0, GLANCES_S[0]))
        while min(dial_s, glance_s) < END_S - 600.0:
            self.grill.run_to(min(dial_s, glance_s))
            free = self.eye.random() < FREE
            if glance_s < dial_s:
                glance_s += float(self.eye.uniform(*GLANCES_S))
                if free and self.cook in ("glances too", "looks as he tells it too"):
                    self._look()
                continue
            self._tell_dial()
            dial_s += float(self.dial.uniform(*DIALS_S))
            if self.cook == "looks as he tells it too":
                self._look()
        self.grill.run_to(END_S)
        path = np.array(self.grill.temps_c)[int(ON_S / STEP_S) :]
        low_c, high_c = self.known.band_c
        self.found.cold_min = float((path < low_c).sum() * STEP_S / 60.0)
        self.found.hot_min = float((path > high_c).sum() * STEP_S / 60.0)
        return self.found

    def _tell_dial(self) -> None:
        """Tell the dial, and do what is said to it."""
        now_s = self.grill.now_s
        read_c = self.grill.temps_c[-1] + DIAL_SD_C * float(self.dial.standard_normal())
        self.known = replace(
            self.known, readings=(*self.known.readings, AirReading(now_s, read_c))
        )  # fmt: skip
        if self.cook == "before":
            self._obey_before()
        elif self.cook != "tends nothing":
            self._hear()

    def _hear(self) -> None:
        """Do what is said now, if anything is; the board shows the rest."""
        forecast = fire_forecast(self.known, self.grill.now_s, END_S)
        assert forecast is not None
        self.shown, told = forecast.suggestion, forecast.advice
        if told is not None and (told.action == "ask" or self._may_speak()):
            self._speak(told)

    def _may_speak(self) -> bool:
        advised = self.known.advised
        return advised is None or self.grill.now_s - advised[0] >= WORD_APART_S

    def _speak(self, told: Advice) -> None:
        self._count()
        if told.action == "ask":
            self.known = replace(self.known, vents_asked=True)
        else:
            self.known = replace(self.known, advised=(self.grill.now_s, told.action))
        self._do(told)

    def _count(self) -> None:
        self.found.said += 1
        path = np.array(self.grill.temps_c)[-int(STEADY_S / STEP_S) :]
        low_c, high_c = self.known.band_c
        steady = path.min() >= low_c and path.max() <= high_c and np.ptp(path) < STEADY_C
        self.found.said_steady += bool(steady)

    def _look(self) -> None:
        """Do what the board shows; a question it shows is answered, and it looked at again."""
        fresh = self.known.readings and self.grill.now_s - self.known.readings[-1].at_s < FRESH_S
        for _ in range(2):
            if fresh and self.shown is not None:
                self._do(self.shown)

    def _do(self, advice: Advice) -> None:
        """Do it and tell it; where the vents were asked for, tell them."""
        self.shown = None
        if advice.action == "ask":
            self.known = replace(self.known, vents=(VentsMoved(0.0, self.grill.bottom, 0.5),))
            self._hear()
            return
        if advice.action == "add":
            self._feed(float(advice.count))
        else:
            self._turn(advice.opening)

    def _feed(self, count: float) -> None:
        now_s = self.grill.now_s
        self.found.done += 1
        self.grill.feed(count)
        self.known = replace(self.known, fuel=(*self.known.fuel, FuelLoad(now_s, count)))

    def _turn(self, opening: float) -> None:
        moved = VentsMoved(self.grill.now_s, opening, 0.5)
        self.found.done += 1
        self.grill.bottom = opening
        self.known = replace(self.known, vents=(*self.known.vents, moved))

    def _obey_before(self) -> None:
        known, now_s = self.known, self.grill.now_s
        past = estimate(known, now_s)
        turn = fire_always.vents(past, known, now_s)
        fed_s = max(load.at_s for load in known.fuel)
        dose = fire_always.fuel(past, known, turn, now_s, END_S) if now_s > ON_S else None
        if dose is not None and dose.count >= 6 and now_s >= max(dose.at_s, fed_s + 1200.0):
            action = "add"
            self._count()
            self._feed(float(dose.count))
        elif turn is not None:
            action = turn.direction
            self._count()
            self._turn(turn.opening)
        else:
            return
        self.known = replace(self.known, advised=(now_s, action))


def table(count: int, first: int = 0) -> str:
    """The cooks beside each other on `count` evenings, means with standard errors."""
    rows = ["| cook | said an hour | in band and steady | done an hour | min out of band"
            " (cold, hot) | against before |",
            "|---|---|---|---|---|---|"]  # fmt: skip
    found = {
        cook: [Tending(first + one, cook).run() for one in range(count)] for cook in reversed(COOKS)
    }
    before = np.array([one.out_min for one in found["before"]])
    for cook in COOKS:
        all_ = found[cook]
        said, steady, done = (
            sum(getattr(one, what) for one in all_) for what in ("said", "said_steady", "done")
        )
        out = np.array([one.out_min for one in all_])
        cold, hot = (
            np.mean([getattr(one, what) for one in all_]) for what in ("cold_min", "hot_min")
        )
        rows.append(
            f"| {cook} | {said / count / HOURS:.2f} | {steady} of {said}"
            f" | {done / count / HOURS:.1f} | {_mean(out)} ({cold:.0f}, {hot:.0f})"
            f" | {_mean(out - before)} |"
        )
    return "\n".join(rows)


def _mean(values: np.ndarray) -> str:
    """Mean with its 95 % interval."""
    half = 1.96 * values.std(ddof=1) / np.sqrt(values.size)
    return f"{values.mean():.1f} [{values.mean() - half:.1f}, {values.mean() + half:.1f}]"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args()
    print(table(asked.count, asked.first))


if __name__ == "__main__":
    main()
