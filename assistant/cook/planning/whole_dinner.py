"""The whole dinner around the timetable: days before, fuel, sides, after. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from assistant.cook.planning.afterwards import BAND_C, after_moments, carve_order, stays_hot_s
from assistant.cook.planning.before import Thaw, days_before, thaw, too_late_to_thaw
from assistant.cook.planning.fuel_need import Fuel, fuel_for
from assistant.cook.planning.plan import Grill, Moment, Plan, PlannedBird, plan
from assistant.cook.planning.sides import Side, side_moments
from assistant.cook.rules.stops import Way, spit_order
from assistant.heat.bird.roast_time import duration
from assistant.heat.degrees import celsius

FROZEN_NEVER = "a frozen bird is not for a spit"


@dataclass(frozen=True, slots=True)
class Order:
    """What was asked for. Birds are numbered from the motor end."""

    serve_s: float
    birds: tuple[PlannedBird, ...]
    grill: Grill
    sides: tuple[Side, ...] = ()
    frozen: bool = False
    guests: int | None = None


@dataclass(frozen=True, slots=True)
class Dinner:
    """A planned dinner. `thaw` tells how the birds would thaw if they are frozen; None:
    too late for that. `hot_s`: how long each bird stays above 140 F off the heat."""

    order: Order
    plan: Plan
    fuel: Fuel
    thaw: Thaw | None
    way: Way
    carve: tuple[int, ...]
    hot_s: tuple[tuple[int, float | None], ...]


def whole_dinner(order: Order, now_s: float) -> Dinner:
    """Return the dinner from `now_s` to the day after.

    Raises ValueError, one line, for what cannot be: see `plan`, a side dish that is too
    late, or frozen birds that can no longer thaw.
    """
    timetable = plan(order.serve_s, order.birds, order.grill, now_s=now_s)
    out_s = _at(timetable, "readiness")
    on_s, off_s = (
        _at(timetable, "birds_on"),
        max(one.likely_s for one in timetable.moments_of("off")),
    )
    thawing = thaw(order.birds, out_s, now_s)
    if order.frozen and thawing is None:
        raise ValueError(_too_late(order, out_s, now_s))
    sides = side_moments(order.sides, order.serve_s, off_s, now_s)
    fuel = _fuel(order, _at(timetable, "light"), on_s, off_s)
    free_s = max((one.likely_s + 60.0 * one.amount for one in sides if one.what != "side_kitchen"),
                 default=off_s)  # fmt: skip
    moments = [
        *timetable.moments,
        *days_before(order.birds, out_s, now_s, thawing if order.frozen else None),
        *sides,
        *(Moment("fuel", at_s, at_s, at_s, amount=count) for at_s, count in fuel.loads[1:]),
        *after_moments(timetable, free_s),
    ]
    moments.sort(key=lambda one: one.likely_s)
    return Dinner(
        order,
        replace(timetable, moments=tuple(moments)),
        fuel,
        thawing,
        "together" if len(timetable.moments_of("off")) == 1 else "far_first",
        carve_order(timetable, order.birds),
        tuple((bird.number, stays_hot_s(bird, order.grill)) for bird in order.birds),
    )


def placed(birds: Sequence[PlannedBird]) -> tuple[PlannedBird, ...]:
    """Return the birds with numbers from the motor end: the slowest first, so that the
    first to be done comes off the far end without moving the others."""
    by_number = {bird.number: bird for bird in birds}
    lead = {n: duration(bird.mass_kg, bird.kind).done.q50 or 0.0 for n, bird in by_number.items()}
    return tuple(
        replace(by_number[old], number=place) for place, old in enumerate(spit_order(lead), 1)
    )


def _at(timetable: Plan, what: str) -> float:
    moment = timetable.moment(what)
    assert moment is not None, f"a plan has its {what}"
    return moment.likely_s


def _fuel(order: Order, light_s: float, on_s: float, off_s: float) -> Fuel:
    grill = order.grill
    heaviest_first = sorted((bird.mass_kg for bird in order.birds), reverse=True)
    return fuel_for(
        light_s, on_s, off_s, tuple(heaviest_first[: grill.at_once]),
        air_c=grill.air_c if grill.air_c is not None else sum(BAND_C) / 2,
        outside_c=celsius(grill.outside_f),
        kitchen=grill.kitchen,
    )  # fmt: skip


def _too_late(order: Order, out_s: float, now_s: float) -> str:
    later_min = 15 * -(-too_late_to_thaw(order.birds, out_s, now_s) // 900)
    later = f"{later_min / 60:g} h" if later_min > 90 else f"{later_min:.0f} min"
    return (
        "too late to thaw, even in cold water (30 min a pound); serve at least"
        f" {later} later or take fresh birds: {FROZEN_NEVER}"
    )
