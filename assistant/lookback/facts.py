"""A past cook read back from its journal: what was forecast when, and what happened.

Everything is computed again from the events, with the forecaster of today; the
journal holds what was said, never a forecast.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from assistant.cook.rules.fold import apply
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.state import Bird, Cook, Reading
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Mark
from assistant.heat.bird.evidence import Forecast, Quantiles

MARKS: tuple[Mark, ...] = ("sauce", "done")


@dataclass(frozen=True, slots=True)
class Foreseen:
    """The forecast as it stood from `at_s` on, and the event that changed it."""

    at_s: float
    because: ev.Event
    forecast: Forecast


@dataclass(frozen=True, slots=True)
class Reached:
    """A bird reached a mark: not yet at `after_s`, at it when seen at `by_s`.

    `at_s` is where a straight line between two readings of one spot crosses the mark.
    `after_s` is None where nothing was read below the mark first; then `at_s` is
    `by_s` and too late by an unknown amount, and no forecast is scored against it.
    """

    bird: int
    mark: Mark
    at_s: float
    after_s: float | None
    by_s: float


@dataclass(frozen=True, slots=True)
class Evening:
    """One cook with hindsight. `cook` is the state at its end, corrections applied."""

    recorded: tuple[ev.Recorded, ...]
    cook: Cook
    foreseen: tuple[Foreseen, ...]
    reached: tuple[Reached, ...]
    title: str
    note: str = ""

    @property
    def began_s(self) -> float:
        """When the cook began, epoch seconds."""
        return self.recorded[0].at_s if self.cook.began_s is None else self.cook.began_s

    @property
    def ended_s(self) -> float:
        """The end of the cook, or its last event."""
        return self.recorded[-1].at_s if self.cook.ended_s is None else self.cook.ended_s

    def reached_by(self, bird: int, mark: Mark) -> Reached | None:
        """When `bird` reached `mark`, if it did."""
        return next((one for one in self.reached if (one.bird, one.mark) == (bird, mark)), None)


def evening(
    recorded: Sequence[ev.Recorded], title: str, note: str = "", start: Cook | None = None
) -> Evening:
    """Look back on the events of one cook (at least one).

    `start` is the state before the first event; it carries what the kitchen had
    taught by then (`Cook.kitchen`), so that the forecasts are those of the evening.
    """
    foreseen: list[Foreseen] = []
    cook = Cook()
    for entry, after, forecast in replayed(recorded, start):
        cook = after
        if forecast is not None and (not foreseen or foreseen[-1].forecast != forecast):
            foreseen.append(Foreseen(entry.at_s, entry.event, forecast))
    reached = [
        found
        for bird in cook.birds
        for mark in MARKS
        if (found := reached_mark(bird, mark)) is not None
    ]
    return Evening(tuple(recorded), cook, tuple(foreseen), tuple(reached), title, note)


def replayed(
    recorded: Sequence[ev.Recorded], start: Cook | None = None
) -> Iterator[tuple[ev.Recorded, Cook, Forecast | None]]:
    """Each event with the state and the forecast after it."""
    cook = start if start is not None else Cook()
    for entry in recorded:
        cook = apply(cook, entry)
        yield entry, cook, forecast_of(cook)


def reached_mark(bird: Bird, mark: Mark) -> Reached | None:
    """When the bird's readings show it at the mark; None if they never do.

    It is there once the last two spots read are (as while cooking); each of them
    crossed between its own readings, the later of them decides. The sauce mark of
    a plain bird is nothing that happens.
    """
    if mark == "sauce" and bird.is_plain:
        return None
    mark_f = bird.sauce_mark_f if mark == "sauce" else bird.done_mark_f
    for count, reading in enumerate(bird.readings, 1):
        so_far = replace(bird, readings=bird.readings[:count])
        coldest_f = so_far.coldest_f()
        if coldest_f is not None and coldest_f >= mark_f:
            return _crossed(so_far, mark, mark_f, reading.at_s)
    return None


def _crossed(bird: Bird, mark: Mark, mark_f: float, by_s: float) -> Reached:
    """Where the spots crossed that the last two kinds of spot read belong to."""
    spots = list(dict.fromkeys(one.spot for one in reversed(bird.readings)))[:2]
    crossed: list[tuple[float, float]] = []  # when, and when last below
    for spot in spots:
        own = [one for one in bird.readings if one.spot == spot]
        for below, above in pairwise(own):
            if below.temperature_f < mark_f <= above.temperature_f:
                crossed.append((_on_the_line(below, above, mark_f), below.at_s))
    if not crossed:
        return Reached(bird.number, mark, by_s, None, by_s)
    at_s, after_s = max(crossed)
    return Reached(bird.number, mark, at_s, after_s, by_s)


def _on_the_line(below: Reading, above: Reading, mark_f: float) -> float:
    share = (mark_f - below.temperature_f) / (above.temperature_f - below.temperature_f)
    return below.at_s + share * (above.at_s - below.at_s)


def quantiles_of(forecast: Forecast, bird: int, mark: Mark) -> Quantiles | None:
    """The forecast of one bird's mark."""
    for one in forecast.birds:
        if one.number == bird:
            return one.sauce if mark == "sauce" else one.done
    return None
