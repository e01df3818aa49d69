"""What would keep the grill longest in its band: charcoal by the handful, or the bottom vent.

This is what the board shows to a cook who looks. What is worth a spoken word is far less:
see `assistant.heat.fire.advice`.
"""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from assistant.heat.fire.evidence import FireEvidence
from assistant.heat.fire.filter import AHEAD_STEP_S, Past, ahead
from assistant.heat.fire.kettle import Batch, Floats

Action = Literal["add", "open", "close", "ask"]
Side = Literal["cold", "hot"]

DOSES = np.array([6.0, 12.0])  # a handful and two: a cook counts no finer over a fire
NOTCHES = np.array([0.0, 0.25, 0.5, 0.75, 1.0])  # of the bottom vent's travel
NEAR = 0.1  # of it: as good as there already
VENT_S = 1800.0  # a vent is judged over half an hour: then the dial says whether to turn it again
BURNS_S = 5400.0  # and charcoal over the hour and a half that it burns
LOOK_AHEAD_S = 7200.0
SHOWS_S = 480.0  # after a vent was moved, a dial says something new
CATCHES_S = 1200.0  # and after charcoal went on
LATE_S = 900.0  # before dinner no fire is mended
WORTH_MIN = 1.0  # more in the band, or nothing is shown
ENOUGH = 0.95  # of the best: the gentler action
DEGREE_MIN = 0.01  # per C outside the band: of two ways that are out all along, the nearer one
OUT_S = 600.0  # out of the band for so long is out
SOON_S = 3600.0
MATTERS = 0.5  # likelier than not out of the band so soon: then how the vents stand matters
# A grill at 350 instead of 375 F over a cook of about 85 min: done about 4 min later.
MIN_PER_C_S = 4.0 / ((375.0 - 350.0) / 1.8 * 85.0 * 60.0)


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do: `add` `count` briquettes, `open` or `close` the bottom vent to `opening`
    (0 to 1, by `by`), or tell how the vents stand (`ask`). `side`: where the grill is
    heading; `at_s`: when it is out of its band in the median; `likely`: the probability
    that it is for ten minutes within the hour; `gain_min`: by how much done moves."""

    action: Action
    side: Side
    at_s: float
    likely: float
    gain_min: float
    count: int = 0
    opening: float = 0.0
    by: float = 0.0


@dataclass(frozen=True, slots=True)
class _Way:
    """One thing to do: how much it asks of the cook, and what the grill does then, C."""

    action: Action
    amount: float
    effort: float
    saves_min: float
    temps_c: Floats


def suggest(
    past: Past, known: FireEvidence, now_s: float, until_s: float, vent_s: float = VENT_S
) -> Advice | None:
    """Return the gentlest of what keeps the grill in its band, in the mean over the cloud;
    None: leave it alone, or wait until what was done shows. A vent is judged over `vent_s`.
    """
    if until_s - now_s < LATE_S or _was_moved(known, now_s):
        return None
    end_s = min(until_s, now_s + LOOK_AHEAD_S)
    times, temps = ahead(past, known, now_s, end_s)
    plain = temps[:, 0, :]
    if _outside_min(times, plain, known.band_c, BURNS_S) < WORTH_MIN:
        return None
    ways = _ways(past, known, times, plain, vent_s)
    best = max((way.saves_min for way in ways), default=0.0)
    if not _told_bottom(known) and (not known.vents_asked or best < WORTH_MIN):
        asked = _asks(times, plain, known)
        return asked if asked.likely >= MATTERS else None
    if best < WORTH_MIN:
        return None
    good = [way for way in ways if way.saves_min >= ENOUGH * best]
    return _advice(min(good, key=lambda way: way.effort), times, plain, known)


def _was_moved(known: FireEvidence, now_s: float) -> bool:
    """What a vent did has to show on the dial first; the first telling is no move."""
    return bool(known.vents[1:]) and now_s - known.vents[-1].at_s < SHOWS_S


def _told_bottom(known: FireEvidence) -> bool:
    return bool(known.vents) and known.vents[-1].bottom is not None


def _ways(
    past: Past, known: FireEvidence, times: Floats, plain: Floats, vent_s: float
) -> list[_Way]:
    """Return what can be done. A vent nobody told of is never turned by guess, and
    charcoal that has yet to catch is not topped up."""
    now_s, end_s = float(times[0]), float(times[-1])
    bottom = known.vents[-1].bottom if known.vents else None
    found: list[_Way] = []

    def weigh(action: Action, amount: float, effort: float, within_s: float, to_c: Floats) -> None:
        before, after = (_outside_min(times, t, known.band_c, within_s) for t in (plain, to_c))
        found.append(_Way(action, amount, effort, before - after, to_c))

    if bottom is not None:
        _, temps = ahead(past, known, now_s, end_s, bottoms=NOTCHES)
        for k, to in enumerate(NOTCHES):
            if abs(to - bottom) > NEAR:
                action: Action = "open" if to > bottom else "close"
                weigh(action, float(to), abs(to - bottom), vent_s, temps[:, k, :])
    if not known.fuel or now_s - known.fuel[-1].at_s >= CATCHES_S:
        _, temps = ahead(past, known, now_s, end_s, add=Batch(now_s, 1.0), counts=DOSES)
        for k, dose in enumerate(DOSES):
            weigh("add", float(dose), 0.3 + dose / 50.0, BURNS_S, temps[:, k, :])
    return found


def _outside_min(
    times: Floats, temps_c: Floats, band_c: tuple[float, float], within_s: float
) -> float:
    """Return the expected minutes out of the band `within_s`, far out counting a little more."""
    near = times <= times[0] + within_s
    out = temps_c[near]
    beyond = np.maximum(band_c[0] - out, 0.0) + np.maximum(out - band_c[1], 0.0)
    share = np.mean(beyond > 0.0) + DEGREE_MIN * np.mean(beyond)
    return float(share * (times[near][-1] - times[0]) / 60.0)


def _advice(way: _Way, times: Floats, plain: Floats, known: FireEvidence) -> Advice:
    side: Side = "hot" if way.action == "close" else "cold"
    likely, at_s = leaves(times, plain, known.band_c, side)
    step_s = float(times[1] - times[0])
    gain_min = MIN_PER_C_S * step_s * float(np.abs(way.temps_c - plain).mean(axis=1).sum())
    if way.action == "add":
        return Advice(way.action, side, at_s, likely, gain_min, count=int(way.amount))
    by = abs(way.amount - (known.vents[-1].bottom or 0.0))
    return Advice(way.action, side, at_s, likely, gain_min, opening=way.amount, by=by)


def _asks(times: Floats, plain: Floats, known: FireEvidence) -> Advice:
    """Return the question how the vents stand, on the side where the grill is heading. What
    turning them would gain cannot be known before: what a handful gains stands for it."""
    cold, hot = (leaves(times, plain, known.band_c, side) for side in ("cold", "hot"))
    side: Side = "cold" if cold[0] >= hot[0] else "hot"
    likely, at_s = max(cold, hot)
    low_c, high_c = known.band_c
    nearest = np.clip(plain, low_c, high_c)
    step_s = float(times[1] - times[0])
    gain_min = MIN_PER_C_S * step_s * float(np.abs(nearest - plain).mean(axis=1).sum())
    return Advice("ask", side, at_s, likely, gain_min)


def leaves(
    times: Floats, temps_c: Floats, band_c: tuple[float, float], side: Side
) -> tuple[float, float]:
    """Return the probability that it is out on that side for ten minutes within the hour,
    and when it is in the median (now, where it never is)."""
    beyond = temps_c < band_c[0] if side == "cold" else temps_c > band_c[1]
    hold = 1 + int(np.ceil(OUT_S / AHEAD_STEP_S))
    steps = len(beyond) - hold + 1
    if steps < 1:
        return 0.0, float(times[0])
    lasting = np.logical_and.reduce([beyond[k : steps + k] for k in range(hold)])
    near = times[:steps] <= times[0] + SOON_S
    found = lasting[near].any(axis=0)
    first_s = times[:steps][near][np.argmax(lasting[near], axis=0)]
    at_s = float(np.median(first_s[found])) if found.any() else float(times[0])
    return float(found.mean()), at_s
