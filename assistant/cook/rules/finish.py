"""The finish: both spots, pull order, rest, keeping hot, leftovers. Pure.

Limits are the public guidance of `assistant.cook.guidance`. Nothing here ever says that
food is safe: it says what was read, where, and what the guidance is.
"""

from dataclasses import dataclass

from assistant.cook.guidance import chill_limit_s
from assistant.cook.kinds import kind_of
from assistant.cook.state import BOTH_SPOTS, Bird, Cook
from assistant.cook.vocabulary.commands import Spot
from assistant.heat.bird.carry_over import carry_over
from assistant.heat.degrees import celsius, fahrenheit

WARN_CHILL_S = 1800.0  # the leftovers prompt comes this long before the limit
SPOT_AGE_S = 1800.0  # common practice, no source
STUCK_F = 4.0
STUCK_S = 1200.0


def spots_to_read(bird: Bird) -> tuple[Spot, ...]:
    """Return the spots still to be read before the bird counts as done at both.

    Breast and thigh count, each read at the mark within half an hour of the bird's last
    reading or of its going back on; the wing, or who knows where, stands in for neither.
    Empty: below the mark, in doubt, both read, or a roast, which has no such spots.
    """
    if not bird.readings or bird.kind == "roast" or not bird.is_done:
        return ()
    last_s = bird.readings[-1].at_s
    since_s = max(last_s, bird.on_heat[-1].start_s if bird.on_heat else last_s) - SPOT_AGE_S
    latest = {one.spot: one for one in bird.readings}
    fresh = {
        spot
        for spot, one in latest.items()
        if one.temperature_f >= bird.done_mark_f and one.at_s >= since_s
    }
    return tuple(spot for spot in BOTH_SPOTS if spot not in fresh)


def spot_left(bird: Bird | None) -> Spot | None:
    """Return the one spot to read where the other has just read the mark; None: both."""
    if bird is None or not bird.readings or bird.kind == "roast":
        return None
    since_s = bird.readings[-1].at_s - SPOT_AGE_S
    latest = {one.spot: one for one in bird.readings if one.at_s >= since_s}
    left = [
        spot
        for spot in BOTH_SPOTS
        if spot not in latest or latest[spot].temperature_f < bird.done_mark_f
    ]
    return left[0] if len(left) == 1 else None


@dataclass(frozen=True, slots=True)
class Rest:
    """A bird's rest: epoch seconds from off to carving; the coldest spot's forecast
    peak, F (low, usual, high) and when."""

    began_s: float
    ends_s: float
    peak_f: tuple[float, float, float] | None
    peak_at_s: float | None


def rest_of(bird: Bird, state: Cook) -> Rest | None:
    """Return the rest of a bird that is done and off; None for any other."""
    if not bird.is_pulled:
        return None
    began_s = bird.on_heat[-1].end_s
    coldest_f = bird.coldest_f()
    assert began_s is not None
    assert coldest_f is not None
    ends_s = rested_s(bird)
    air_f = state.fire.readings[-1].temperature_f if state.fire.readings else _middle_f(state)
    carry = carry_over(
        celsius(coldest_f), bird.mass_kg, bird.kind, celsius(max(air_f, 250.0)),
        celsius(state.outside_f),
    )  # fmt: skip
    if carry is None:
        return Rest(began_s, ends_s, None, None)
    low, usual, high = (fahrenheit(one) for one in carry.peak_c)
    return Rest(began_s, ends_s, (low, usual, high), began_s + carry.peak_s)


def rested_s(bird: Bird) -> float:
    """Return when a bird that is off has rested long enough to be carved."""
    off_s = bird.on_heat[-1].end_s
    assert off_s is not None, "still on the heat"
    return off_s + 60.0 * kind_of(bird.kind).rest_min


def _middle_f(state: Cook) -> float:
    return (state.fire.band_low_f + state.fire.band_high_f) / 2


def off_for_table(state: Cook) -> dict[int, float]:
    """Return when each bird left the heat for the table, epoch seconds, by number."""
    return {
        bird.number: end_s
        for bird in state.birds
        if (bird.is_pulled or bird.off_for_good)
        and bird.on_heat
        and (end_s := bird.on_heat[-1].end_s) is not None
    }


def chill_by_s(state: Cook) -> float | None:
    """Return when leftovers have to be in the cold, counted from when the first bird came
    off for the table; None while none has.

    As in the plan, a bird off for longer than the limit before dinner is kept hot till then.
    """
    if not off_for_table(state):
        return None
    limit_s = chill_limit_s(state.outside_f)
    return limit_s + min(left_to_cool(state).values(), default=state.serve_s or 0.0)


def left_to_cool(state: Cook) -> dict[int, float]:
    """Return when each bird left the heat that is not kept hot for a dinner too far off."""
    since_s = (state.serve_s or 0.0) - chill_limit_s(state.outside_f)
    return {number: at_s for number, at_s in off_for_table(state).items() if at_s > since_s}


def is_waiting(bird: Bird, state: Cook) -> bool:
    """Return whether a rested bird waits for others, and so has to be kept hot."""
    return bird.is_pulled and bird.carved_s is None and bool(state.cooking)


def is_stuck(bird: Bird) -> bool:
    """Return whether the last two readings of one spot, twenty minutes or more on the
    heat apart, hardly differ."""
    if not bird.is_on or len(bird.readings) < 2:
        return False
    last = bird.readings[-1]
    for earlier in reversed(bird.readings[:-1]):
        if earlier.spot == last.spot and last.at_s - earlier.at_s >= STUCK_S:
            was_on = all(
                span.end_s is None or span.end_s >= last.at_s or span.end_s <= earlier.at_s
                for span in bird.on_heat
            )
            return was_on and last.temperature_f - earlier.temperature_f < STUCK_F
    return False
