"""Fires to be forecast: another burning law, another integrator, other constants.

Pieces shrink as spheres at constant pace (mass = (1 - s)^3), the steel is two
lumps, time goes in 10 s steps, and every constant is drawn anew; the forecaster
shares none of it but the meaning of the words.
"""

from dataclasses import dataclass

import numpy as np

from assistant.heat.bird.evidence import AirReading, Span
from assistant.heat.fire.evidence import BirdLoad, FireEvidence, FuelLoad, VentsMoved

STEP_S = 10.0
END_S = 3.5 * 3600.0
ON_S = 2700.0


@dataclass(frozen=True)
class Truth:
    evidence: FireEvidence
    temps_c: np.ndarray
    now_s: float
    end_s: float

    def at(self, time_s: float) -> float:
        return float(self.temps_c[min(int(time_s / STEP_S), len(self.temps_c) - 1)])


def burn(seed: int, ratio: float = 1.0) -> Truth:
    """One evening: 50 to 75 briquettes at 0, birds at 45 min, 16 more at 80 min,
    dial read every 20 min or so up to `now_s`. `ratio` makes the grill leakier."""
    rng = np.random.default_rng(1000 + seed)

    def about(value: float, spread: float) -> float:
        return float(value * np.exp(spread * rng.standard_normal()))

    heat, loss = about(0.41e6, 0.15), about(8.5 * ratio, 0.12)
    air, life = about(2600.0, 0.25), about(5200.0, 0.2)
    shell, grate, link = about(5500.0, 0.2), about(3000.0, 0.2), 25.0
    load_w = about(200.0, 0.2)
    count, outside = float(rng.integers(50, 76)), 20.0
    piles = [(about(1100.0, 0.1), count), (4800.0 + about(700.0, 0.1), 16.0)]
    progress, shell_c, grate_c, wind = np.zeros(2), outside, outside, 0.0
    temps = []
    for k in range(int(END_S / STEP_S)):
        t = k * STEP_S
        wind += -wind * STEP_S / 1800.0 + 0.08 * np.sqrt(2 * STEP_S / 1800.0) * rng.normal()
        lit = np.array([min(max((t - at) / 400.0 + 1.0, 0.0), 1.0) for at, _ in piles])
        wanted = sum(
            3.0 * n * heat / life * (1 - s) ** 2 * on
            for (_, n), s, on in zip(piles, progress, lit, strict=True)
        )
        share = 1.0 / (1.0 + wanted / (air * np.exp(wind)))
        progress = np.minimum(progress + STEP_S * share / life * (lit > 0), 1.0)
        birds = 2 * load_w * (grate_c - 80.0) / 108.0 if t > ON_S and grate_c > 80.0 else 0.0
        grate_c += STEP_S / grate * (wanted * share - link * (grate_c - shell_c) - birds)
        shell_c += STEP_S / shell * (link * (grate_c - shell_c) - loss * (shell_c - outside))
        temps.append(0.5 * (grate_c + shell_c))
    path = np.array(temps)
    now_s = float(rng.uniform(5000.0, 8000.0))
    reads = [2400.0 + 1250.0 * k + float(rng.uniform(-200, 200)) for k in range(5)]
    evidence = FireEvidence(
        readings=tuple(
            AirReading(at, float(path[int(at / STEP_S)] + 4.0 * rng.standard_normal()))
            for at in reads
            if at <= now_s
        ),
        fuel=(FuelLoad(0.0, count), FuelLoad(4800.0, 16.0)),
        lit_s=0.0,
        vents=(VentsMoved(0.0, 0.5, 0.5),),
        birds=(BirdLoad(1.7, (Span(ON_S),)), BirdLoad(1.7, (Span(ON_S),))),
        outside_c=outside,
    )
    return Truth(evidence, path, now_s, END_S)
