"""Evenings with the fire tended as advised: how much is said, and how long it is out of band.

The cook reads the dial every 12 to 20 minutes and does at once whatever is said. Three
helpers beside each other on the same kettles: none, the one that is built in, and, as a
baseline, advice at every reading (the doses and vent openings of before, tests/benchmarks/
fire_always.py).
"""

from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from assistant.heat.bird.evidence import AirReading, Span
from assistant.heat.fire.evidence import BirdLoad, FireEvidence, FuelLoad, VentsMoved
from assistant.heat.fire.filter import estimate
from assistant.heat.fire.forecast import fire_forecast
from tests.benchmarks import fire_always
from tests.heat.fire.fire_evening import END_S, ON_S, STEP_S, Evening

Helper = Literal["none", "built in", "at every reading"]
STEADY_C, STEADY_S = 5.0, 1200.0


@dataclass
class Tended:
    """What became of one evening."""

    said: int = 0
    said_steady: int = 0
    out_min: float = 0.0


def tend(seed: int, helper: Helper) -> Tended:
    """One evening from the match to dinner at 2 h 45 min."""
    grill, found = Evening(seed), Tended()
    dial = np.random.default_rng(seed)
    birds = (BirdLoad(1.7, (Span(ON_S),)), BirdLoad(1.7, (Span(ON_S),)))
    known = FireEvidence(lit_s=0.0, fuel=(FuelLoad(0.0, grill.count),), birds=birds)
    if seed % 2:
        known = replace(known, vents=(VentsMoved(0.0, 0.5, 0.5),))
    at_s = 2400.0
    while at_s < END_S - 600.0:
        grill.run_to(at_s)
        read = AirReading(at_s, grill.temps_c[-1] + 4.0 * float(dial.standard_normal()))
        known = replace(known, readings=(*known.readings, read))
        if helper != "none" and at_s > ON_S:
            known = _heed(known, grill, found, helper)
        at_s += float(dial.uniform(720.0, 1200.0))
    grill.run_to(END_S)
    path = np.array(grill.temps_c)[int(ON_S / STEP_S) :]
    low_c, high_c = known.band_c
    found.out_min = float(((path < low_c) | (path > high_c)).sum() * STEP_S / 60.0)
    return found


def _heed(known: FireEvidence, grill: Evening, found: Tended, helper: Helper) -> FireEvidence:
    """Do what is said now, if anything is."""
    now_s = grill.now_s
    action, amount = (_built_in if helper == "built in" else _always)(known, now_s)
    if action is None:
        return known
    found.said += 1
    found.said_steady += _is_steady(known, grill)
    known = replace(known, advised=(now_s, action))
    if action == "ask":
        return replace(known, vents=(VentsMoved(0.0, grill.bottom, 0.5),), vents_asked=True)
    if action == "add":
        grill.feed(amount)
        return replace(known, fuel=(*known.fuel, FuelLoad(now_s, amount)))
    grill.bottom = amount
    return replace(known, vents=(*known.vents, VentsMoved(now_s, amount, 0.5)))


def _built_in(known: FireEvidence, now_s: float) -> tuple[str | None, float]:
    forecast = fire_forecast(known, now_s, END_S)
    advice = forecast.advice if forecast is not None else None
    if advice is None:
        return None, 0.0
    bottom = known.vents[-1].bottom if known.vents else 0.5
    to = {"open": bottom + 0.25, "close": bottom - 0.25}
    return advice.action, float(np.clip(to.get(advice.action, advice.count), 0.0, 99.0))


def _always(known: FireEvidence, now_s: float) -> tuple[str | None, float]:
    past = estimate(known, now_s)
    turn = fire_always.vents(past, known, now_s)
    fed_s = max(load.at_s for load in known.fuel)
    dose = fire_always.fuel(past, known, turn, now_s, END_S)
    if dose is not None and dose.count >= 6 and now_s >= max(dose.at_s, fed_s + 1200.0):
        return "add", float(dose.count)
    return (turn.direction, turn.opening) if turn is not None else (None, 0.0)


def _is_steady(known: FireEvidence, grill: Evening) -> bool:
    """In its band for 20 minutes past, and hardly moved."""
    path = np.array(grill.temps_c)[-int(STEADY_S / STEP_S) :]
    low_c, high_c = known.band_c
    return bool(path.min() >= low_c and path.max() <= high_c and np.ptp(path) < STEADY_C)


def table(count: int) -> str:
    """The three helpers beside each other on `count` evenings."""
    hours = (END_S - ON_S) / 3600.0
    rows = ["| helper | said an hour | said in band and steady | minutes out of band |",
            "|---|---|---|---|"]  # fmt: skip
    helpers: tuple[Helper, ...] = ("none", "built in", "at every reading")
    for helper in helpers:
        all_ = [tend(seed, helper) for seed in range(count)]
        said, steady = (sum(getattr(one, what) for one in all_) for what in ("said", "said_steady"))
        out = np.array([one.out_min for one in all_])
        error = out.std() / np.sqrt(count)
        rows.append(
            f"| {helper} | {said / count / hours:.2f} | {steady} of {said}"
            f" | {out.mean():.1f} +- {error:.1f} |"
        )
    return "\n".join(rows)
