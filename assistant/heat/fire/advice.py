"""Whether the fire is worth a word, and which: charcoal by the handful, or the bottom vent.

Saying nothing is the rule. Advice is given only where the dial shows a trend, the grill is
likely to leave its band, dinner gains by it, and every draw of the filter says the same.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from assistant.heat.bird.evidence import AirReading
from assistant.heat.fire.evidence import FireEvidence
from assistant.heat.fire.filter import AHEAD_STEP_S, SEEDS, Past, ahead, estimate
from assistant.heat.fire.kettle import Batch, Floats, vents_air

Action = Literal["add", "open", "close", "ask"]
Side = Literal["cold", "hot"]

DOSES = np.array([6.0, 12.0])  # a handful and two: a cook counts no finer over a fire
NOTCH = 0.25  # of the bottom vent's travel
APART_S = 600.0  # two dial readings this far apart are a trend
STEADY_C = 3.0  # between them; less is how a dial is read
SHUT_S = 300.0  # after the lid went on, the dial has come back
OUT_S = 600.0  # out of the band for so long is out
LIKELY = 0.7
LOOK_AHEAD_S = 3600.0
SETTLES_S = 1200.0  # after a vent was moved, fuel went on, or advice the other way
WORTH_MIN = 5.0  # at dinner
# A grill at 350 instead of 375 F over a cook of about 85 min: done about 4 min later.
MIN_PER_C_S = 4.0 / ((375.0 - 350.0) / 1.8 * 85.0 * 60.0)
AS_GOOD = 1.1  # the gentler action, where it leaves hardly more time out of the band


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do: `add` `count` briquettes, `open` or `close` the bottom vent by a NOTCH,
    or `ask` how the vents stand. `side`: where the grill is heading; `at_s`:
    when it is out of its band in the median; `gain_min`: at dinner."""

    action: Action
    count: int
    side: Side
    at_s: float
    gain_min: float


def advise(known: FireEvidence, now_s: float, until_s: float, past: Past) -> Advice | None:
    """Return what is worth saying to hold the band to `until_s`; None: say nothing.

    `past` is the first draw of the filter; the others are run only where it speaks.
    """
    side = trend(known, now_s)
    if side is None or _still_settles(known, side, now_s):
        return None
    first = _of_one_draw(past, known, side, now_s, until_s)
    if first is None:
        return None
    for seed in SEEDS[1:]:
        other = _of_one_draw(estimate(known, now_s, seed), known, side, now_s, until_s)
        if other is None or (other.action, other.count) != (first.action, first.count):
            return None
    return first


def trend(known: FireEvidence, now_s: float) -> Side | None:
    """Return where the last two dial readings ten minutes apart agree it is heading.

    Both since the birds went on and with the lid shut; each must be on that side of the
    band's middle, and the later no nearer to it, or out of the band and not coming back.
    """
    on_s = min((span.start_s for bird in known.birds for span in bird.on_heat), default=np.inf)
    reads = [r for r in known.readings if on_s <= r.at_s <= now_s and _lid_was_shut(known, r.at_s)]
    if not reads or now_s - reads[-1].at_s > SETTLES_S:
        return None
    later = reads[-1]
    earlier = [r for r in reads if later.at_s - r.at_s >= APART_S]
    return _agreed(earlier[-1], later, known.band_c) if earlier else None


def _agreed(before: AirReading, later: AirReading, band_c: tuple[float, float]) -> Side | None:
    low_c, high_c = band_c
    moved_c = later.temperature_c - before.temperature_c
    both_cold = max(before.temperature_c, later.temperature_c) < low_c
    both_hot = min(before.temperature_c, later.temperature_c) > high_c
    middle_c = (low_c + high_c) / 2
    if moved_c <= STEADY_C and (
        both_cold or (moved_c < -STEADY_C and later.temperature_c < middle_c)
    ):
        return "cold"
    if moved_c >= -STEADY_C and (
        both_hot or (moved_c > STEADY_C and later.temperature_c > middle_c)
    ):
        return "hot"
    return None


def _lid_was_shut(known: FireEvidence, at_s: float) -> bool:
    return not any(
        span.start_s <= at_s and (span.end_s is None or at_s < span.end_s + SHUT_S)
        for span in known.lid_open
    )


def _still_settles(known: FireEvidence, side: Side, now_s: float) -> bool:
    """What was done or said lately has to show first."""
    done_s = [load.at_s for load in known.fuel] + [moved.at_s for moved in known.vents[1:]]
    if any(0.0 <= now_s - at_s < SETTLES_S for at_s in done_s):
        return True
    if known.advised is None:
        return False
    at_s, action = known.advised
    turned = (action == "close") != (side == "hot")
    return turned and now_s - at_s < SETTLES_S


def _of_one_draw(
    past: Past, known: FireEvidence, side: Side, now_s: float, until_s: float
) -> Advice | None:
    until_s = min(until_s, now_s + 3 * LOOK_AHEAD_S)
    if until_s - now_s < OUT_S:
        return None
    times, temps = ahead(past, known, now_s, until_s)
    plain = temps[:, 0, :]
    out = _is_out(plain, known.band_c, side)
    near = times[: len(out)] <= now_s + LOOK_AHEAD_S
    leaves = out[near].any(axis=0)
    if leaves.mean() < LIKELY:
        return None
    at_s = float(np.median(times[: len(out)][near][np.argmax(out[near], axis=0)[leaves]]))
    ways = _ways(past, known, side, now_s, until_s)
    if not ways:
        return None
    costs = [_excess_c(way, known.band_c).mean() for _, _, way in ways]
    action, count, best = next(
        way for way, cost in zip(ways, costs, strict=True) if cost <= AS_GOOD * min(costs)
    )
    step_s = float(times[1] - times[0])
    gain_min = MIN_PER_C_S * step_s * float(np.abs(best - plain).mean(axis=1).sum())
    if min(costs) >= _excess_c(plain, known.band_c).mean() or gain_min < WORTH_MIN:
        return None
    if not known.vents and not known.vents_asked:
        return Advice("ask", 0, side, at_s, gain_min)
    return Advice(action, count, side, at_s, gain_min)


def _is_out(temps_c: Floats, band_c: tuple[float, float], side: Side) -> Floats:
    """Return from which steps each particle is out on that side for ten minutes."""
    beyond = temps_c < band_c[0] if side == "cold" else temps_c > band_c[1]
    hold = 1 + int(np.ceil(OUT_S / AHEAD_STEP_S))
    lasting = beyond[: len(beyond) - hold + 1].copy()
    for k in range(1, hold):
        lasting &= beyond[k : len(beyond) - hold + 1 + k]
    return np.asarray(lasting)


def _excess_c(temps_c: Floats, band_c: tuple[float, float]) -> Floats:
    """Return by how much the grill is outside its band, C."""
    return np.asarray(np.maximum(band_c[0] - temps_c, 0.0) + np.maximum(temps_c - band_c[1], 0.0))


def _ways(
    past: Past, known: FireEvidence, side: Side, now_s: float, until_s: float
) -> list[tuple[Action, int, Floats]]:
    """Return what can be done, the gentlest first, with the temperatures it leads to.

    A vent nobody told of is never turned by guess: there only charcoal is weighed, and on
    the hot side the loss of heat from a vent that may be anywhere.
    """
    found: list[tuple[Action, int, Floats]] = []
    bottom, top = (known.vents[-1].bottom, known.vents[-1].top) if known.vents else (0.5, 0.5)
    to = bottom + NOTCH if side == "cold" else bottom - NOTCH
    asks = not known.vents and not known.vents_asked
    if (known.vents or (asks and side == "hot")) and 0.0 <= to <= 1.0:
        air = np.array([vents_air(to, top)])
        action: Action = "open" if side == "cold" else "close"
        found.append((action, 0, ahead(past, known, now_s, until_s, vents=air)[1][:, 0, :]))
    if side == "cold":
        batch = Batch(now_s, 1.0)
        _, temps = ahead(past, known, now_s, until_s, add=batch, counts=DOSES)
        found += [("add", int(dose), temps[:, k, :]) for k, dose in enumerate(DOSES)]
    return found
