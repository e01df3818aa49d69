"""What an update costs: processor time and memory, with eight hours on record."""

import resource
import time

import numpy as np

from assistant.heat.bird.ensemble import ensemble
from assistant.heat.bird.evidence import AirReading, BirdEvidence, CoreReading, Evidence, Span
from assistant.heat.bird.forecast import forecast


def eight_hours(kind: str, mass_kg: float, hours: float) -> tuple[Evidence, float]:
    """Four birds, a reading of each every half hour, a grill reading every ten minutes."""
    last_s = hours * 3600.0
    birds = []
    for number in range(4):
        readings = tuple(
            CoreReading(3600.0 * h + 20.0 * number, 4.0 + 66.0 * h / hours)
            for h in np.arange(0.5, hours, 0.5)
        )
        spans = (Span(60.0 * number, 0.6 * last_s), Span(0.6 * last_s + 600.0))
        birds.append(BirdEvidence(number + 1, kind, mass_kg, spans, readings))
    grill = tuple(AirReading(600.0 * k, 188.0 + 6.0 * np.sin(k)) for k in range(int(6 * hours)))
    fuel = tuple(3000.0 * k for k in range(1, int(1.2 * hours)))
    return Evidence(tuple(birds), grill, fuel_added_s=fuel), last_s


def update_ms(evidence: Evidence, now_s: float, times: int = 5) -> float:
    """Least processor time of a forecast computed from nothing, ms."""
    taken = []
    for _ in range(times):
        ensemble.cache_clear()
        forecast.cache_clear()
        began = time.process_time()
        forecast(evidence, now_s)
        taken.append(time.process_time() - began)
    return 1000.0 * min(taken)


def rehearsal_s(evidence: Evidence) -> float:
    """Processor time of a forecast after every event of an evening, s."""
    moments = {one.at_s for bird in evidence.birds for one in bird.readings}
    moments |= {one.at_s for one in evidence.grill} | set(evidence.fuel_added_s)
    began = time.process_time()
    for now_s in sorted(moments):
        forecast(_until(evidence, now_s), now_s)
    return time.process_time() - began


def _until(evidence: Evidence, now_s: float) -> Evidence:
    birds = tuple(
        BirdEvidence(
            bird.number, bird.kind, bird.mass_kg,
            tuple(
                Span(span.start_s, span.end_s if (span.end_s or np.inf) <= now_s else None)
                for span in bird.on_heat if span.start_s <= now_s
            ),
            tuple(one for one in bird.readings if one.at_s <= now_s),
        )
        for bird in evidence.birds
    )  # fmt: skip
    return Evidence(
        birds, tuple(one for one in evidence.grill if one.at_s <= now_s),
        fuel_added_s=tuple(at for at in evidence.fuel_added_s if at <= now_s),
    )  # fmt: skip


def report() -> None:
    """Print the costs."""
    for title, kind, mass_kg, hours in (
        ("four turkeys, eight hours on record", "turkey", 5.5, 8.0),
        ("four 6 lb chickens, eight hours on record", "chicken", 2.72, 8.0),
        ("four 6 lb chickens, ninety minutes on record", "chicken", 2.72, 1.5),
    ):
        evidence, now_s = eight_hours(kind, mass_kg, hours)
        print(f"one update, {title}: {update_ms(evidence, now_s):.0f} ms of processor time")
    evidence, _ = eight_hours("turkey", 5.5, 8.0)
    print(f"forecasts of a whole eight-hour evening: {rehearsal_s(evidence):.1f} s")
    print(f"peak memory {resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024:.0f} MB")


if __name__ == "__main__":
    report()
