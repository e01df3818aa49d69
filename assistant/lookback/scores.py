"""How good the forecasts of a past cook were.

Scored are the forecasts that stood after each reading (of any bird or of the
grill) and when the bird went on, as long as the mark had not been read yet.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean, median

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import Mark
from assistant.heat.bird.evidence import Quantiles
from assistant.lookback.facts import MARKS, Evening, Reached, quantiles_of

ALPHA = 0.2  # the 0.1 and 0.9 quantiles hold an 80 % interval
LEVELS = (0.1, 0.5, 0.9)
SCORED = (ev.BirdOn, ev.BirdRead, ev.GrillRead, ev.Corrected)


@dataclass(frozen=True, slots=True)
class Scored:
    """One forecast against what happened. `error_s` is forecast median minus truth."""

    made_s: float
    bird: int
    mark: Mark
    times: Quantiles
    truth_s: float

    @property
    def error_s(self) -> float | None:
        """Forecast middle minus truth, seconds; None where no middle was in sight."""
        return None if self.times.q50 is None else self.times.q50 - self.truth_s

    @property
    def is_inside(self) -> bool:
        """The truth lies in the 80 % interval, an open end counting as far away."""
        low, high = self.times.q10, self.times.q90
        return low is not None and low <= self.truth_s and (high is None or self.truth_s <= high)


@dataclass(frozen=True, slots=True)
class Summary:
    """Of some forecasts: how many, the share inside the 80 % interval, and in seconds
    the median size of the error, the mean error, the mean interval score and the CRPS
    estimated from three quantiles. A value is None where no forecast allows it."""

    count: int
    inside: float | None
    error_s: float | None
    bias_s: float | None
    interval_score_s: float | None
    crps_s: float | None


def scored(evening: Evening) -> tuple[Scored, ...]:
    """Every forecast that can be scored, in the order they were made."""
    found = []
    for mark in MARKS:
        for bird in evening.cook.birds:
            truth = evening.reached_by(bird.number, mark)
            if truth is not None and truth.after_s is not None:
                found += _of_mark(evening, truth)
    return tuple(sorted(found, key=lambda one: (one.made_s, one.bird, one.mark)))


def _of_mark(evening: Evening, truth: Reached) -> list[Scored]:
    found = []
    for one in evening.foreseen:
        times = quantiles_of(one.forecast, truth.bird, truth.mark)
        if times is None or one.at_s >= truth.by_s or not isinstance(one.because, SCORED):
            continue
        if times.q10 is None and times.q50 is None and times.q90 is None:
            continue  # it was not on the spit yet
        found.append(Scored(one.at_s, truth.bird, truth.mark, times, truth.at_s))
    return found


def summary(scores: Sequence[Scored]) -> Summary:
    """The scores of these forecasts taken together."""
    errors = [one.error_s for one in scores if one.error_s is not None]
    intervals = [
        interval_score(one.times.q10, one.times.q90, one.truth_s)
        for one in scores
        if one.times.q10 is not None and one.times.q90 is not None
    ]
    ranked = [found for one in scores if (found := crps(one.times, one.truth_s)) is not None]
    return Summary(
        count=len(scores),
        inside=fmean(one.is_inside for one in scores) if scores else None,
        error_s=median(abs(one) for one in errors) if errors else None,
        bias_s=fmean(errors) if errors else None,
        interval_score_s=fmean(intervals) if intervals else None,
        crps_s=fmean(ranked) if ranked else None,
    )


def interval_score(low: float, high: float, truth: float, alpha: float = ALPHA) -> float:
    """Width of the interval plus 2/alpha for each unit the truth lies outside.

    Gneiting and Raftery 2007, section 6.2; smaller is better.
    """
    return (high - low) + 2 / alpha * (max(low - truth, 0.0) + max(truth - high, 0.0))


def crps(times: Quantiles, truth: float) -> float | None:
    """The continuous ranked probability score estimated from the three quantiles:
    twice the mean pinball loss. None where a quantile is missing."""
    quantiles = (times.q10, times.q50, times.q90)
    losses = [
        (truth - value) * (level - (truth < value))
        for level, value in zip(LEVELS, quantiles, strict=True)
        if value is not None
    ]
    return 2 * fmean(losses) if len(losses) == len(LEVELS) else None
