"""One spit, one stop: what shares a spit is lifted out, sauced and put back together. Pure.

Birds are numbered from the motor end. A bird can leave the spit only when every bird
farther from the motor has left it, so the first to be done belongs at the far end.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from assistant.cook.vocabulary.commands import Sugar

TOGETHER_S = 600.0  # birds done this close are taken off at once
NEAR_S = 180.0  # a sauce may go on this much before its window; common practice, no source
_SUGAR_RANK: Mapping[Sugar, int] = {"none": 0, "some": 1, "high": 2}

Way = Literal["together", "far_first"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """One bird's sauce: it may go on from `opens_s` to `closes_s`, epoch seconds."""

    bird: int
    opens_s: float
    closes_s: float
    sugar: Sugar = "some"


@dataclass(frozen=True, slots=True)
class Stop:
    """Lift the spit out, sauce `birds` in this order, back on: from `at_s` to `closes_s`."""

    at_s: float
    closes_s: float
    birds: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Pull:
    """`birds` leave the spit for good at `at_s`."""

    at_s: float
    birds: tuple[int, ...]


def sauce_stops(wanted: Iterable[Wanted]) -> tuple[Stop, ...]:
    """Return the fewest stops in which every bird gets its sauce in its window.

    Within a stop the sauce that burns soonest, the most sugary, goes on last.
    """
    left = sorted(wanted, key=lambda one: (one.closes_s, one.opens_s, one.bird))
    found: list[Stop] = []
    while left:
        closes_s = left[0].closes_s
        here = [one for one in left if one.opens_s <= closes_s + NEAR_S]
        left = [one for one in left if one not in here]
        at_s = min(closes_s, max(one.opens_s for one in here))
        here.sort(key=lambda one: (_SUGAR_RANK[one.sugar], one.bird))
        found.append(Stop(at_s, closes_s, tuple(one.bird for one in here)))
    return tuple(found)


def pulls(done: Mapping[int, float]) -> tuple[Pull, ...]:
    """Return when birds leave a shared spit, from the time each is done.

    From the far end inwards; a bird done before one that is farther out waits for it.
    Birds within ten minutes of each other come off together.
    """
    found: list[Pull] = []
    free_s = first_s = float("-inf")
    for bird in sorted(done, reverse=True):
        free_s = max(free_s, done[bird])
        if free_s - first_s <= TOGETHER_S:
            found[-1] = Pull(free_s, (bird, *found[-1].birds))
        else:
            found.append(Pull(free_s, (bird,)))
            first_s = free_s
    return tuple(found)


def way_of(found: Sequence[Pull]) -> Way:
    """Return how the spit is finished: all at once, or the far end first."""
    return "together" if len(found) <= 1 else "far_first"


def spit_order(lead_s: Mapping[int, float]) -> tuple[int, ...]:
    """Return birds from the motor end outwards: the slowest first, the first to be done at
    the far end, where it comes off without moving the others."""
    return tuple(sorted(lead_s, key=lambda bird: (-lead_s[bird], bird)))
