"""State to heat evidence and forecasts: the one place that converts their units."""

from assistant.cook.state import Bird, Cook
from assistant.heat.evidence import AirReading, BirdEvidence, CoreReading, Evidence, Forecast
from assistant.heat.forecast import forecast


def celsius(temperature_f: float) -> float:
    """Degrees C of a temperature in F."""
    return (temperature_f - 32.0) / 1.8


def fahrenheit(temperature_c: float) -> float:
    """Degrees F of a temperature in C."""
    return temperature_c * 1.8 + 32.0


def evidence_of(state: Cook) -> Evidence:
    """All that is recorded and bears on the birds' temperatures, times as recorded."""
    fire = state.fire
    return Evidence(
        birds=tuple(_bird_evidence(bird) for bird in state.birds),
        grill=tuple(AirReading(one.at_s, celsius(one.temperature_f)) for one in fire.readings),
        lid_open=fire.lid_open,
        fuel_added_s=tuple(one.at_s for one in fire.fuel),
        band_c=(celsius(fire.band_low_f), celsius(fire.band_high_f)),
        outside_c=celsius(state.outside_f),
        kitchen=state.kitchen,
    )


def _bird_evidence(bird: Bird) -> BirdEvidence:
    return BirdEvidence(
        number=bird.number,
        kind=bird.kind,
        mass_kg=bird.mass_kg,
        on_heat=bird.on_heat,
        readings=tuple(
            CoreReading(one.at_s, celsius(one.temperature_f), one.spot) for one in bird.readings
        ),
        sauce_mark_c=celsius(bird.sauce_mark_f),
        done_mark_c=celsius(bird.done_mark_f),
    )


def evidence_time(evidence: Evidence) -> float | None:
    """The latest time anything in the evidence happened; None if no bird is on."""
    if not any(bird.on_heat for bird in evidence.birds):
        return None
    times = [one.at_s for one in evidence.grill]
    times += evidence.fuel_added_s
    for span in (*evidence.lid_open, *(span for bird in evidence.birds for span in bird.on_heat)):
        times.append(span.start_s if span.end_s is None else span.end_s)
    times += [one.at_s for bird in evidence.birds for one in bird.readings]
    return max(times)


def forecast_of(state: Cook) -> Forecast | None:
    """When each bird reaches its marks, as of the last fact that bears on it.

    None while no bird has been on. Its quantiles are epoch seconds, so they
    stay true while time passes and only a new fact makes a new forecast.
    """
    evidence = evidence_of(state)
    as_of_s = evidence_time(evidence)
    if as_of_s is None:
        return None
    return forecast(evidence, as_of_s)
