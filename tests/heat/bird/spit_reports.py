"""What the forecaster says of reported cooks on a motor-driven spit."""

from dataclasses import dataclass
from math import sqrt

from assistant.heat.bird.evidence import AirReading, BirdEvidence, Evidence, HeatKind
from assistant.heat.bird.forecast import forecast
from tests.heat.bird.scenes import POUND, celsius, minutes
from tests.heat.tables import rows

REPORTS = [row for row in rows("spit_cooks", "a") if row["kind"] != "rule"]
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
    heat: HeatKind = "gas spit" if row["heat"] == "gas" else "charcoal spit"
    told = forecast(Evidence(birds, grill, planned_off_s=0.0, heat=heat), 0.0)
    low, middle, high = (value or float("nan") for value in minutes(told.birds[0].done))
    took = sqrt(float(row["minutes_low"]) * float(row["minutes_high"]))
    return Foretold(took, low, middle, high)
