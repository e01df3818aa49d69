"""First forecasts against reported cooks on a motor-driven spit.

People's reports, not measurements (the table names each page). The check was written
down before the spit's prior was set: at least seven of the nine reports within the
80 % interval of their own conditions, and no common bias beyond 5 %.
"""

from dataclasses import dataclass
from math import exp, log, sqrt

import pytest

from assistant.heat.bird.evidence import AirReading, BirdEvidence, Evidence
from assistant.heat.bird.forecast import forecast
from tests.heat.bird.scenes import POUND, celsius, minutes
from tests.heat.tables import rows

REPORTS = [row for row in rows("spit_cooks", "a") if row["kind"] != "rule"]
SEVEN, BIAS = 7, 0.05
AHEAD_MIN = tuple(range(0, 240, 20))


def grill_f(told: str) -> list[tuple[float, float]]:
    """Dial readings (minute, F) that a report's words stand for; none where it has none."""
    if " then " in told:
        first, later = (float(part) for part in told.split(" then "))
        return [(0.0, first), (20.0, first), *[(float(m), later) for m in AHEAD_MIN if m > 30]]
    if told.endswith(" at the start"):
        return [(0.0, float(told.removesuffix(" at the start")))]
    if told.startswith("over "):
        return [(float(m), float(told.removeprefix("over ")) + 10.0) for m in AHEAD_MIN]
    if not told:
        return []
    middle = sum(float(part) for part in told.split("-")) / len(told.split("-"))
    return [(float(m), middle) for m in AHEAD_MIN]


@dataclass(frozen=True)
class Foretold:
    """Minutes: the report's own, and the forecast's 10, 50 and 90 % quantiles."""

    took: float
    low: float
    middle: float
    high: float


def foretold(row: dict[str, str]) -> Foretold:
    """The forecast as the birds go on, knowing the dial the report tells."""
    mark_f = float(row["end_f"]) if row["end_f"].isdigit() else 165.0
    birds = tuple(
        BirdEvidence(
            number + 1, row["kind"], float(row["mass_lb"]) * POUND, done_mark_c=celsius(mark_f)
        )
        for number in range(int(row["birds"]))
    )
    grill = tuple(AirReading(60.0 * m, celsius(f)) for m, f in grill_f(row["grill_f"]))
    told = forecast(Evidence(birds, grill, planned_off_s=0.0), 0.0)
    low, middle, high = (value or float("nan") for value in minutes(told.birds[0].done))
    took = sqrt(float(row["minutes_low"]) * float(row["minutes_high"]))
    return Foretold(took, low, middle, high)


def test_nine_reports_are_in_the_table() -> None:
    assert len(REPORTS) == 9
    assert all(row["source"] for row in REPORTS)


@pytest.mark.xfail(strict=True, reason="the first guess is an oven's, not a spit's")
def test_seven_of_nine_reported_spit_cooks_lie_within_the_first_forecast() -> None:
    found = [foretold(row) for row in REPORTS]
    held = [one for one in found if one.low <= one.took <= one.high]
    assert len(held) >= SEVEN


@pytest.mark.xfail(strict=True, reason="the first guess is an oven's, not a spit's")
def test_reported_spit_cooks_take_as_long_as_foretold_on_the_whole() -> None:
    found = [foretold(row) for row in REPORTS]
    bias = exp(sum(log(one.took / one.middle) for one in found) / len(found)) - 1.0
    assert abs(bias) <= BIAS
