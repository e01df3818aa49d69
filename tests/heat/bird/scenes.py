"""Evidence for the tests, in the words of a cook: minutes, pounds, degrees F."""

from collections.abc import Sequence

from assistant.heat.bird.evidence import (
    AirReading,
    BirdEvidence,
    BirdForecast,
    CoreReading,
    Evidence,
    Quantiles,
    Span,
)
from assistant.heat.bird.forecast import forecast

POUND = 0.45359237

Minutes = tuple[float | None, float | None, float | None]


def celsius(temperature_f: float) -> float:
    return (temperature_f - 32.0) / 1.8


def bird(
    *readings: tuple[float, float],
    number: int = 1,
    pounds: float | None = 6.0,
    on: Sequence[tuple[float, float | None]] = ((0.0, None),),
    kind: str = "chicken",
) -> BirdEvidence:
    """A bird with readings (minute, F), over the fire in the spans (minutes)."""
    return BirdEvidence(
        number,
        kind,
        None if pounds is None else pounds * POUND,
        tuple(Span(60.0 * a, None if b is None else 60.0 * b) for a, b in on),
        tuple(CoreReading(60.0 * at, celsius(f)) for at, f in readings),
    )


def evening(
    *birds: BirdEvidence, grill: Sequence[tuple[float, float]] = ((1.0, 370.0),)
) -> Evidence:
    """An evening with grill readings (minute, F)."""
    return Evidence(birds, tuple(AirReading(60.0 * at, celsius(f)) for at, f in grill))


def at(evidence: Evidence, minute: float, number: int = 1) -> BirdForecast:
    """The forecast of one bird at a minute."""
    told = forecast(evidence, 60.0 * minute).birds
    return next(one for one in told if one.number == number)


def minutes(quantiles: Quantiles) -> Minutes:
    """0.1, 0.5 and 0.9 quantiles in minutes."""
    low, middle, high = (
        None if value is None else value / 60.0
        for value in (quantiles.q10, quantiles.q50, quantiles.q90)
    )
    return low, middle, high


def width(quantiles: Quantiles) -> float:
    """Minutes from the 0.1 to the 0.9 quantile; never reached counts as ten hours."""
    low, _, high = minutes(quantiles)
    return (600.0 if high is None else high) - (600.0 if low is None else low)
