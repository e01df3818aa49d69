"""The plan back from the table, and what it has become. Pure.

Every moment has an early, a likely and a late time. Birds go on early enough that
seven dinners in ten are ready on time: a bird done early rests a little longer, a
bird done late cannot be helped.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from typing import Protocol

from assistant.cook.guidance import chill_limit_s
from assistant.cook.kinds import kind_of
from assistant.cook.rules.sauces import SWEET_OPEN_S
from assistant.cook.rules.stops import Wanted, pulls, sauce_stops
from assistant.cook.vocabulary.commands import Sugar
from assistant.heat.bird.evidence import HeatKind, Kitchen, Quantiles
from assistant.heat.bird.roast_time import RoastTime, duration
from assistant.heat.degrees import celsius

ON_TIME = 0.5  # how far from the likely towards the late roast: about the 0.7 quantile
SAUCE_OFF_S = 600.0  # off the heat for saucing; common practice, no source
SAUCE_LATEST_S = 600.0  # before done: a sauce needs about that to set
NEAR_S = 300.0  # moments this close are one
ONE_LID_S = 600.0  # looks this close are one, for one open lid
TURN_ROUND_S = 600.0  # between two batches on one spit
SETTLE_S = (900.0, 1200.0, 1800.0)  # from ash-covered coals to a steady grill
LIGHT_S = (900.0, 1200.0, 1800.0)  # chimney to ash-covered, 15 to 30 min: a default only
READY_S = 1800.0  # readiness list before the match
LOOK_BEFORE_S = 300.0
FIRST_LOOK_S = 1200.0  # nothing is worth an open lid before that


class Duration(Protocol):
    """Roasting time of a bird, as `assistant.heat.bird.roast_time.duration` tells it."""

    def __call__(
        self,
        mass_kg: float | None,
        kind: str = ...,
        air_c: float | None = ...,
        kitchen: Kitchen = ...,
        *,
        off_s: float = ...,
        marks_c: tuple[float, float] | None = ...,
        outside_c: float = ...,
        heat: HeatKind = ...,
    ) -> RoastTime:
        """Return seconds on the spit to both marks, `off_s` of saucing included."""


@dataclass(frozen=True, slots=True)
class PlannedBird:
    """One piece; its number counts from the motor end, in whatever batch it roasts."""

    number: int
    mass_kg: float
    kind: str = "chicken"
    sauced: bool = True
    sugar: Sugar = "some"
    sauce: str | None = None


@dataclass(frozen=True, slots=True)
class Moment:
    """Something to do: between `early_s` and `late_s`, likely at `likely_s`. `name` is a
    side dish's own; `amount` counts briquettes, the hours of a
    thaw, or the minutes of a side dish."""

    what: str
    early_s: float
    likely_s: float
    late_s: float
    birds: tuple[int, ...] = ()
    name: str = ""
    amount: float = 0.0


@dataclass(frozen=True, slots=True)
class Plan:
    """`on_time`: the birds can still go on when the plan wants them on."""

    serve_s: float
    moments: tuple[Moment, ...]
    on_time: bool = True

    def moment(self, what: str, bird: int | None = None) -> Moment | None:
        """Return the first moment of that name (of that bird)."""
        for one in self.moments:
            if one.what == what and (bird is None or bird in one.birds):
                return one
        return None

    def moments_of(self, what: str) -> tuple[Moment, ...]:
        """Return all moments of that name."""
        return tuple(one for one in self.moments if one.what == what)


@dataclass(frozen=True, slots=True)
class Grill:
    """What the plan assumes of the grill. `air_c` None: somewhere in its usual band.
    `at_once`: birds the spit takes; more are roasted in batches, heaviest last."""

    air_c: float | None = None
    outside_f: float = 68.0
    at_once: int = 8
    kitchen: Kitchen = field(default_factory=Kitchen)
    heat: HeatKind = "charcoal spit"


@dataclass(frozen=True, slots=True)
class Timing:
    """One bird: seconds on the spit to sauce and to done, saucing included."""

    bird: PlannedBird
    sauce_s: tuple[float, float, float]
    done_s: tuple[float, float, float]
    lead_s: float  # from on to off, with the margin for being on time


def plan(
    serve_s: float,
    birds: Sequence[PlannedBird],
    grill: Grill | None = None,
    *,
    now_s: float | None = None,
    roast: Duration = duration,
) -> Plan:
    """Return the timetable back from `serve_s` (epoch seconds).

    Raises ValueError without birds, for an unknown kind, or for a bird that is
    never done at that grill temperature.
    """
    grill = grill or Grill()
    if not birds:
        raise ValueError("no birds to plan for; give at least one weight")
    if grill.at_once < 1:
        raise ValueError("the spit takes at least one bird at once")
    timings = [_timing(bird, grill, roast) for bird in birds]
    off_s = serve_s - carve_s(birds) - rest_s(birds)
    moments: list[Moment] = []
    for batch in reversed(_batches(timings, grill.at_once)):
        found, on_s = _batch(batch, off_s)
        moments += found
        off_s = on_s - TURN_ROUND_S
    first_on_s = min(one.likely_s for one in moments if one.what == "birds_on")
    offs_s = [one.likely_s for one in moments if one.what == "off"]
    moments += _fire(first_on_s) + _table(serve_s, birds)
    moments.append(_chill(serve_s, offs_s, grill.outside_f))
    ordered = tuple(sorted(moments, key=lambda one: (one.likely_s, _ORDER.index(one.what))))
    return Plan(serve_s, ordered, on_time=now_s is None or now_s <= first_on_s)


def carve_s(birds: Sequence[PlannedBird]) -> float:
    """Return how long carving takes, at most 25 min: somebody will help."""
    return 60.0 * min(25.0, 3.0 + sum(kind_of(bird.kind).carve_min for bird in birds))


def rest_s(birds: Sequence[PlannedBird]) -> float:
    """Return the longest rest any of the birds wants."""
    return 60.0 * max(kind_of(bird.kind).rest_min for bird in birds)


def _timing(bird: PlannedBird, grill: Grill, roast: Duration) -> Timing:
    kind = kind_of(bird.kind)
    time = roast(
        bird.mass_kg,
        bird.kind,
        grill.air_c,
        grill.kitchen,
        off_s=SAUCE_OFF_S if bird.sauced else 0.0,
        marks_c=(celsius(kind.sauce_mark_f), celsius(kind.done_mark_f)),
        outside_c=celsius(grill.outside_f),
        heat=grill.heat,
    )
    sauce, done = _three(time.sauce), _three(time.done)
    if sauce is None or done is None:
        raise ValueError(
            f"a {bird.kind} of {bird.mass_kg:.1f} kg is not done within the longest roast"
            " at this grill temperature; plan a hotter grill or a smaller bird"
        )
    _, likely, late = done
    return Timing(bird, sauce, done, likely + ON_TIME * (late - likely))


def _three(quantiles: Quantiles) -> tuple[float, float, float] | None:
    q10, q50, q90 = quantiles.q10, quantiles.q50, quantiles.q90
    return None if q10 is None or q50 is None or q90 is None else (q10, q50, q90)


def _batches(timings: Sequence[Timing], at_once: int) -> list[list[Timing]]:
    """Split evenly, heaviest last, so that what waits is what is kept hot easiest."""
    ordered = sorted(timings, key=lambda one: (one.lead_s, one.bird.number))
    count = -(-len(ordered) // at_once)
    size = -(-len(ordered) // count)
    return [ordered[i : i + size] for i in range(0, len(ordered), size)]


def _batch(batch: Sequence[Timing], off_s: float) -> tuple[list[Moment], float]:
    """Return the moments of birds that share the spit, and when they go on: all at once,
    early enough for the slowest. Saucing is by stops, and the far end comes off first."""
    on_s = off_s - max(one.lead_s for one in batch)
    numbers = tuple(sorted(one.bird.number for one in batch))
    found = [Moment("birds_on", on_s, on_s, on_s, numbers)]
    found += _looks([_look(one, on_s) for one in batch])
    offs = _offs(batch, on_s)
    return [*found, *(_with_off(one, offs) for one in _sauces(batch, on_s)), *offs], on_s


def _with_off(stop: Moment, offs: Sequence[Moment]) -> Moment:
    """Return a stop for sauce, made when a bird comes off where that is near: the spit is
    lifted out once."""
    for off in offs:
        if abs(off.likely_s - stop.likely_s) <= NEAR_S:
            early_s, late_s = min(stop.early_s, off.likely_s), max(stop.late_s, off.likely_s)
            return replace(stop, early_s=early_s, likely_s=off.likely_s, late_s=late_s)
    return stop


def _look(timing: Timing, on_s: float) -> Moment:
    at_s = max(on_s + FIRST_LOOK_S, on_s + timing.sauce_s[0] - LOOK_BEFORE_S)
    at_s = min(at_s, on_s + timing.done_s[0] - LOOK_BEFORE_S)
    return Moment("first_look", at_s, at_s, at_s, (timing.bird.number,))


def _sauces(batch: Sequence[Timing], on_s: float) -> list[Moment]:
    """Return the stops for sauce; each closes ten minutes before its first bird is done."""
    by_number = {one.bird.number: one for one in batch if one.bird.sauced}
    wanted = []
    for number, one in by_number.items():
        opens_s = on_s + one.sauce_s[1]
        if one.bird.sugar == "high":
            opens_s = max(opens_s, on_s + one.done_s[1] - SWEET_OPEN_S)
        closes_s = max(opens_s, on_s + one.done_s[1] - SAUCE_LATEST_S)
        wanted.append(Wanted(number, opens_s, closes_s, one.bird.sugar))
    found = []
    for stop in sauce_stops(wanted):
        early_s = min(on_s + by_number[number].sauce_s[0] for number in stop.birds)
        found.append(Moment("sauce", min(early_s, stop.at_s), stop.at_s, stop.closes_s, stop.birds))
    return found


def _offs(batch: Sequence[Timing], on_s: float) -> list[Moment]:
    """Return when birds leave the spit, the far end first."""
    done = {one.bird.number: [on_s + at_s for at_s in one.done_s] for one in batch}
    found = []
    for pull in pulls({number: at_s[1] for number, at_s in done.items()}):
        early_s = min(done[number][0] for number in pull.birds)
        late_s = max(done[number][2] for number in pull.birds)
        found.append(
            Moment("off", min(early_s, pull.at_s), pull.at_s, max(late_s, pull.at_s), pull.birds)
        )
    return found


def _looks(looks: Sequence[Moment]) -> list[Moment]:
    """Join looks within ten minutes into one for several birds, at the first."""
    found: list[Moment] = []
    for one in sorted(looks, key=lambda each: each.likely_s):
        if found and one.likely_s - found[-1].likely_s <= ONE_LID_S:
            birds = tuple(sorted({*found[-1].birds, *one.birds}))
            found[-1] = replace(found[-1], birds=birds)
        else:
            found.append(one)
    return found


def _fire(on_s: float) -> list[Moment]:
    """Return readiness, lighting and the settled fire, before the first birds go on."""
    quick, usual, slow = (a + b for a, b in zip(LIGHT_S, SETTLE_S, strict=True))
    light_s = on_s - usual
    return [
        Moment("readiness", light_s - READY_S, light_s - READY_S, light_s - READY_S),
        Moment("light", on_s - slow, light_s, on_s - quick),
        Moment("settled", on_s - 600.0, on_s - 300.0, on_s),
    ]


def _table(serve_s: float, birds: Sequence[PlannedBird]) -> list[Moment]:
    carve = serve_s - carve_s(birds)
    rest = carve - rest_s(birds)
    return [
        Moment("rest", rest, rest, rest),
        Moment("carve", carve, carve, carve),
        Moment("serve", serve_s, serve_s, serve_s),
    ]


def _chill(serve_s: float, offs_s: Sequence[float], outside_f: float) -> Moment:
    """Leftovers in the cold, counted from the first bird off the heat; one that is off for
    longer than the limit before the table has to be kept hot till then."""
    limit_s = chill_limit_s(outside_f)
    chill_s = limit_s + min((at_s for at_s in offs_s if at_s > serve_s - limit_s), default=serve_s)
    return Moment("chill", min(serve_s, chill_s), chill_s, chill_s)


_ORDER = (
    "readiness", "light", "settled", "birds_on", "first_look", "sauce", "off", "rest",
    "carve", "serve", "chill",
)  # fmt: skip
