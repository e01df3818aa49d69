"""State to heat evidence and forecasts, with their units."""

from functools import lru_cache

from assistant.cook.kinds import kind_of
from assistant.cook.rules import trouble
from assistant.cook.state import Bird, Cook, Fire, VentsAt
from assistant.cook.vocabulary.prompts import Key, Refuel, TurnVent, VentsUntold
from assistant.heat.bird.evidence import (
    AirReading,
    BirdEvidence,
    CoreReading,
    Evidence,
    Forecast,
    Span,
)  # fmt: skip
from assistant.heat.bird.forecast import forecast
from assistant.heat.degrees import celsius
from assistant.heat.fire.evidence import BirdLoad, FireEvidence, FuelLoad, VentsMoved
from assistant.heat.fire.forecast import FireForecast, fire_forecast

# A forecast costs time for each fact; the latest say nearly all, so that an endless
# evening is answered as quickly as a short one. A usual bird is read four to seven times.
MOST_READINGS, MOST_GRILL = 24, 48
LONGEST_ON_S = 6 * 3600.0  # what is older hardly bears on a bird that is still over the fire
SOON_ON_S = 300.0  # birds waiting beside the grill go on about then
FIRE_AHEAD_S = 2 * 3600.0  # how far the fire matters when nobody said when dinner is


def evidence_of(state: Cook) -> Evidence:
    """All that is recorded and bears on the birds' temperatures, times as recorded."""
    fire = state.fire
    return Evidence(
        birds=tuple(_bird_evidence(bird, state.at_s) for bird in state.birds),
        grill=_grill(state),
        lid_open=fire.lid_open[-MOST_GRILL:],
        fuel_added_s=tuple(one.at_s for one in fire.fuel[-MOST_GRILL:]),
        band_c=(celsius(fire.band_low_f), celsius(fire.band_high_f)),
        outside_c=celsius(state.outside_f),
        kitchen=state.kitchen,
        heat=state.heat,
    )


def _grill(state: Cook) -> tuple[AirReading, ...]:
    """The dial's readings, and what a fire called dying stands for."""
    seen = sorted((*state.fire.readings, *trouble.fire_low(state)), key=lambda one: one.at_s)
    return tuple(AirReading(one.at_s, celsius(one.temperature_f)) for one in seen[-MOST_GRILL:])


def _bird_evidence(bird: Bird, now_s: float) -> BirdEvidence:
    since_s = now_s - LONGEST_ON_S if bird.is_on else float("-inf")
    return BirdEvidence(
        number=bird.number,
        kind=bird.kind,
        mass_kg=bird.mass_kg,
        on_heat=_since(bird.on_heat, since_s),
        readings=tuple(
            CoreReading(one.at_s, celsius(one.temperature_f), one.spot, one.confirmed)
            for one in bird.readings[-MOST_READINGS:]
            if one.at_s >= since_s
        ),
        sauce_mark_c=celsius(bird.sauce_mark_f),
        done_mark_c=celsius(bird.done_mark_f),
        planned_off_s=0.0 if bird.is_plain else None,
    )


def _since(spans: tuple[Span, ...], since_s: float) -> tuple[Span, ...]:
    """The spans from a moment on."""
    return tuple(
        Span(max(one.start_s, since_s), one.end_s)
        for one in spans
        if one.end_s is None or one.end_s > since_s
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
    return _forecast(evidence, as_of_s)


def fire_evidence_of(state: Cook) -> FireEvidence:
    """All that is recorded and bears on the fire, times as recorded."""
    fire = state.fire
    return FireEvidence(
        readings=_grill(state),
        fuel=tuple(FuelLoad(one.at_s, one.count, one.kind) for one in fire.fuel[-MOST_GRILL:]),
        lit_s=fire.lit_s,
        lid_open=fire.lid_open[-MOST_GRILL:],
        vents=tuple(_vents(one) for one in fire.vents[-MOST_GRILL:]),
        birds=_loads(state),
        band_c=(celsius(fire.band_low_f), celsius(fire.band_high_f)),
        outside_c=celsius(state.outside_f),
        weather=trouble.weather(state),
        kitchen=state.kitchen,
        advised=_advised(state),
        vents_asked=any(one.key == VentsUntold.KIND and one.said_s for one in state.prompts),
    )


def fire_of(state: Cook, now_s: float) -> FireForecast | None:
    """When the grill leaves its band, as of the last fact that bears on the fire.

    `now_s` only bounds how far ahead it matters; None where nothing is known.
    """
    fire, evidence = state.fire, fire_evidence_of(state)
    times = [one.at_s for one in evidence.readings] + [one.at_s for one in fire.fuel]
    times += [one.at_s for one in fire.vents]
    times += [span.end_s if span.end_s is not None else span.start_s for span in fire.lid_open]
    times += [fire.lit_s] if fire.lit_s is not None else []
    as_of_s = max(times, default=now_s)
    ahead_s = as_of_s + FIRE_AHEAD_S
    until_s = ahead_s if state.serve_s is None else max(state.serve_s, as_of_s + 1800.0)
    return _fire(evidence, as_of_s, until_s)


def _vents(stood: VentsAt) -> VentsMoved:
    """The vents as told; one that nobody spoke of stays unknown."""
    bottom = stood.bottom if "bottom" in stood.told else None
    top = stood.top if "top" in stood.told else None
    return VentsMoved(stood.at_s, bottom, top)


def _loads(state: Cook) -> tuple[BirdLoad, ...]:
    """The birds as a load on the fire; before the first goes on, all are about to."""
    if any(bird.on_heat for bird in state.birds):
        on = [(bird, bird.on_heat) for bird in state.birds if bird.on_heat]
    else:
        soon = (Span(_last_fire_s(state.fire) + SOON_ON_S),)
        on = [(bird, soon) for bird in state.birds]
    return tuple(
        BirdLoad(bird.mass_kg or kind_of(bird.kind).typical_kg, spans) for bird, spans in on
    )


def _last_fire_s(fire: Fire) -> float:
    times = [one.at_s for one in fire.readings] + [one.at_s for one in fire.fuel]
    times += [one.at_s for one in fire.vents]
    return max([*times, *([fire.lit_s] if fire.lit_s is not None else [])], default=0.0)


def _advised(state: Cook) -> tuple[float, str] | None:
    """The last advice on the fire said and when, from the prompt that said it."""
    said = ((one.said_s[-1], Key.read(one.key)) for one in state.prompts if one.said_s)
    told = [
        (at_s, key.rests[0] if key.kind == TurnVent.KIND else "add")
        for at_s, key in said
        if key.kind in (TurnVent.KIND, Refuel.KIND)
    ]
    return max(told, default=None)


@lru_cache(maxsize=16)
def _forecast(evidence: Evidence, as_of_s: float) -> Forecast:
    return forecast(evidence, as_of_s)


@lru_cache(maxsize=16)
def _fire(evidence: FireEvidence, as_of_s: float, until_s: float) -> FireForecast | None:
    return fire_forecast(evidence, as_of_s, until_s)
