"""Where dinner stands by the live forecasts, and when that is worth saying. Pure."""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.cook.kinds import kind_of
from assistant.cook.planning.plan import NEAR_S, PlannedBird, carve_s
from assistant.heat.bird.evidence import Quantiles


def pull_order(done_s: Sequence[tuple[int, float]]) -> tuple[int, ...]:
    """Return bird numbers in the order they come off; those within five minutes of
    each other count as one pull, from the motor end."""
    pulls: list[list[int]] = []
    last_s = 0.0
    for number, at_s in sorted(done_s, key=lambda one: one[1]):
        if pulls and at_s - last_s <= NEAR_S:
            pulls[-1].append(number)
        else:
            pulls.append([number])
        last_s = at_s
    return tuple(number for pull in pulls for number in sorted(pull))


@dataclass(frozen=True, slots=True)
class Standing:
    """Dinner as the forecasts have it: the table set at `table`, `late_s` after the
    serving time (negative: early), and which bird decides."""

    table: Quantiles
    late_s: float
    bird: int


EARLY_S = 1800.0  # early by less is taken up by the rest
TELL_S = 900.0  # less than this is not worth an interruption


def standing(serve_s: float, done: Sequence[tuple[PlannedBird, Quantiles]]) -> Standing | None:
    """Return where dinner stands from live done times (epoch seconds); None while
    some bird's cannot be told. The rest is the deciding bird's own, and whole: what is
    told of dinner agrees with what is told of the rest and the carving."""
    if not done or any(quantiles.q50 is None for _, quantiles in done):
        return None
    birds = [bird for bird, _ in done]
    carve = carve_s(birds)

    def ready(bird: PlannedBird, off_s: float | None) -> float:
        if off_s is None:
            return float("inf")
        return off_s + 60.0 * kind_of(bird.kind).rest_min + carve

    q10, q50, q90 = (
        max(ready(bird, at) for bird, at in column)
        for column in (
            [(bird, q.q10) for bird, q in done],
            [(bird, q.q50) for bird, q in done],
            [(bird, q.q90) for bird, q in done],
        )
    )
    last = max(done, key=lambda one: ready(one[0], one[1].q50))[0]
    table = Quantiles(q10, q50, None if q90 == float("inf") else q90)
    return Standing(table, q50 - serve_s, last.number)


def is_really_late(stands: Standing, serve_s: float) -> bool:
    """Return whether nine times in ten the table would be set after the serving time."""
    q10 = stands.table.q10
    return q10 is not None and q10 > serve_s


def worth_telling(late_s: float, told_late_s: float | None) -> bool:
    """Return whether dinner moved enough to say so: fifteen minutes for the worse, thirty
    for the better since it was last told (or since the plan), or back on time; and not
    merely from on time to a little early."""
    worse_s = late_s - (told_late_s or 0.0)
    if -TELL_S < worse_s < TELL_S or (-2 * TELL_S < worse_s < 0.0 < late_s):
        return False
    return late_s > 0 or (told_late_s or 0.0) > 0 or late_s <= -EARLY_S
