"""After the heat: what stays hot how long, the carving order, bones, the fire put out. Pure."""

from collections.abc import Sequence

from assistant.cook.kinds import kind_of
from assistant.cook.planning.plan import Grill, Moment, Plan, PlannedBird
from assistant.heat.bird.carry_over import carry_over
from assistant.heat.degrees import celsius

DAY_S = 86400.0
ASH_S = DAY_S  # ash is still taken as hot a day later; fire departments say days
BAND_C = celsius(350.0), celsius(400.0)


def after_moments(plan: Plan, grill_free_s: float) -> list[Moment]:
    """Return closing the vents once birds and sides are off the grill, bones and ash."""
    chill, rest = plan.moment("chill"), plan.moment("rest")
    shut_s = grill_free_s if rest is None else max(grill_free_s, rest.likely_s)
    found = [
        Moment("fire_out", shut_s, shut_s, shut_s),
        Moment("ash", shut_s + ASH_S, shut_s + ASH_S, shut_s + ASH_S),
    ]
    if chill is not None:
        found.append(Moment("bones", plan.serve_s, chill.likely_s, chill.likely_s))
    return found


def carve_order(plan: Plan, birds: Sequence[PlannedBird]) -> tuple[int, ...]:
    """Return the order to carve in: what came off first has rested longest; of those that
    came off together the smallest, which cools first."""
    mass = {bird.number: bird.mass_kg for bird in birds}
    return tuple(
        number
        for off in plan.moments_of("off")
        for number in sorted(off.birds, key=lambda one: (mass[one], one))
    )


def waits_s(plan: Plan) -> dict[int, float]:
    """Return how long each bird is off the heat before the table, seconds, likely."""
    return {
        number: plan.serve_s - off.likely_s
        for off in plan.moments_of("off")
        for number in off.birds
    }


def stays_hot_s(bird: PlannedBird, grill: Grill) -> float | None:
    """Return how long a bird off the heat at its done mark stays above 140 F under loose
    foil, seconds, by the heat model; None: longer than an hour and a half."""
    air_c = grill.air_c if grill.air_c is not None else sum(BAND_C) / 2
    done_c = celsius(kind_of(bird.kind).done_mark_f)
    outside_c = celsius(grill.outside_f)
    carry = carry_over(done_c, round(bird.mass_kg, 2), bird.kind, air_c, outside_c)
    return carry.cool_s if carry is not None else None
