"""Whether the fire is worth a spoken word.

Saying nothing is the rule. What the board suggests is said only where two dials show a
trend, the grill is likely to leave its band, dinner gains by it, and every draw of the
filter says the same.
"""

from dataclasses import replace

import numpy as np

from assistant.heat.bird.evidence import AirReading
from assistant.heat.fire.evidence import FireEvidence
from assistant.heat.fire.filter import SEEDS, Past, estimate
from assistant.heat.fire.suggest import Advice, Side, suggest

APART_S = 600.0  # two dial readings this far apart are a trend
STEADY_C = 3.0  # between them; less is how a dial is read
SHUT_S = 300.0  # after the lid went on, the dial has come back
LIKELY = 0.7
SETTLES_S = 1200.0  # after a vent was moved, fuel went on, or advice the other way
WORTH_MIN = 5.0  # at dinner
WORD_APART_S = 3600.0  # at most one word an hour


def advise(
    past: Past, known: FireEvidence, now_s: float, until_s: float, shown: Advice | None
) -> Advice | None:
    """Return what of `shown` is worth saying, in the gentlest amount that any draw of the
    filter asks for; None: say nothing.

    A cook who only listens hears no more of it for an hour, so a vent is judged over that.
    `past` and `shown` are by the first draw; the others are run only where it speaks.
    """
    if shown is None or shown.likely < LIKELY:
        return None
    if trend(known, now_s) != shown.side or _still_settles(known, shown.side, now_s):
        return None
    if shown.action == "ask" and known.vents_asked:
        return None
    told: list[Advice] = []
    for seed in SEEDS:
        draw = past if seed == past.seed else estimate(known, now_s, seed)
        one = suggest(draw, known, now_s, until_s, WORD_APART_S)
        if one is None or one.likely < LIKELY or one.gain_min < WORTH_MIN:
            return None
        if one.side != shown.side or (told and one.action != told[0].action):
            return None
        told.append(one)
    gentle = min(told, key=lambda one: (one.by, one.count))
    return replace(told[0], count=gentle.count, opening=gentle.opening, by=gentle.by)


def trend(known: FireEvidence, now_s: float) -> Side | None:
    """Return where the last two dial readings ten minutes apart agree it is heading.

    Both since the birds went on and with the lid shut: both out of the band on that side
    and not back in it within twenty minutes at that pace, or the later moved toward that
    side and past the band's middle.
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
    middle_c = (low_c + high_c) / 2
    soon_c = later.temperature_c + moved_c * SETTLES_S / (later.at_s - before.at_s)
    if max(before.temperature_c, later.temperature_c, soon_c) < low_c:
        return "cold"
    if min(before.temperature_c, later.temperature_c, soon_c) > high_c:
        return "hot"
    if moved_c < -STEADY_C and later.temperature_c < middle_c:
        return "cold"
    if moved_c > STEADY_C and later.temperature_c > middle_c:
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
