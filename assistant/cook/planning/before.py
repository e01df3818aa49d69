"""The days before the fire: thawing, salting, sauces made, kit laid out. Pure.

Published limits, each checked in tests/cook/test_before.py beside its source: thawing in
the refrigerator and in cold water, how long raw poultry and a thawed bird keep there
(USDA FSIS). Salting hours are common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.cook.guidance import DAY_S, FRIDGE_LB_A_DAY, RAW_KEEPS_S, WATER_S_A_LB
from assistant.cook.planning.plan import Moment, PlannedBird

KG_LB = 0.45359237
SALT_S = (0.5 * DAY_S, DAY_S)  # dry salt, uncovered: half a day to a day before
SALT_LEAST_S = 3600.0  # less does nothing for the inside; then season at the spit
SAUCES_S = 2 * 3600.0
KIT_S = 18 * 3600.0  # the evening before a dinner

Way = Literal["refrigerator", "cold_water"]


@dataclass(frozen=True, slots=True)
class Thaw:
    """Frozen birds: in by `starts_s` at the latest `latest_s`, thawed at `ends_s`."""

    way: Way
    starts_s: float
    latest_s: float
    ends_s: float


def thaw(birds: Sequence[PlannedBird], out_s: float, now_s: float) -> Thaw | None:
    """Return how frozen birds still thaw before they are wanted at `out_s`, epoch seconds.

    In the refrigerator where the published hours are left, with time to salt where
    that is left too; else in cold water, to be cooked at once. None: neither.
    """
    heaviest_lb = max(bird.mass_kg for bird in birds) / KG_LB
    slow_s, quick_s = (DAY_S * heaviest_lb / a_day for a_day in FRIDGE_LB_A_DAY)
    if now_s + quick_s <= out_s:
        starts_s = max(now_s, out_s - SALT_S[0] - slow_s)
        ends_s = min(out_s, starts_s + slow_s)
        return Thaw("refrigerator", starts_s, out_s - quick_s, ends_s)
    water_s = WATER_S_A_LB * heaviest_lb
    if now_s + water_s <= out_s:
        return Thaw("cold_water", out_s - water_s, out_s - water_s, out_s)
    return None


def too_late_to_thaw(birds: Sequence[PlannedBird], out_s: float, now_s: float) -> float:
    """Return by how many seconds dinner must move for cold water to be in time."""
    heaviest_lb = max(bird.mass_kg for bird in birds) / KG_LB
    return max(0.0, now_s + WATER_S_A_LB * heaviest_lb - out_s)


def days_before(
    birds: Sequence[PlannedBird], out_s: float, now_s: float, thawing: Thaw | None
) -> list[Moment]:
    """Return what comes before the birds are taken out at `out_s`; nothing lies before
    `now_s`. `thawing`: the birds are frozen, and this is how they thaw."""
    numbers = tuple(sorted(bird.number for bird in birds))
    found = [_not_before(now_s, "kit", out_s - KIT_S, out_s)]
    if thawing is not None:
        found.append(
            Moment("thaw_" + thawing.way, thawing.starts_s, thawing.starts_s, thawing.latest_s,
                   numbers, amount=(thawing.ends_s - thawing.starts_s) / 3600.0)
        )  # fmt: skip
    elif out_s - now_s > DAY_S:
        buy_s = max(now_s, out_s - RAW_KEEPS_S)
        found.append(Moment("buy", buy_s, buy_s, max(buy_s, out_s - SALT_S[1])))
    salt = _salting(out_s, now_s, thawing)
    if salt is not None:
        found.append(Moment("salt", *salt, numbers))
    if any(bird.sauced for bird in birds):
        found.append(_not_before(now_s, "sauces", out_s - SAUCES_S, out_s))
    return found


def _salting(out_s: float, now_s: float, thawing: Thaw | None) -> tuple[float, float, float] | None:
    """Return the earliest, likely and latest time to salt, once the birds are thawed."""
    if thawing is not None and thawing.way == "cold_water":
        return None  # thawed in water they are cooked at once
    free_s = max(now_s, thawing.ends_s) if thawing is not None else now_s
    likely_s, latest_s = max(free_s, out_s - SALT_S[1]), out_s - SALT_LEAST_S
    if likely_s > latest_s:
        return None
    return max(free_s, out_s - RAW_KEEPS_S), likely_s, max(likely_s, out_s - SALT_S[0])


def _not_before(now_s: float, what: str, likely_s: float, late_s: float) -> Moment:
    at_s = max(now_s, likely_s)
    return Moment(what, at_s, at_s, max(at_s, late_s))
