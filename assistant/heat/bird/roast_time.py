"""How long a bird takes, for planning: from weight, kind and grill temperature."""

from dataclasses import dataclass
from functools import lru_cache

from assistant.heat.bird.air import assume
from assistant.heat.bird.evidence import BirdEvidence, Evidence, HeatKind, Kitchen, Quantiles
from assistant.heat.bird.forecast import forecast


@dataclass(frozen=True, slots=True)
class RoastTime:
    """Seconds from going on the heat to the sauce mark and to the done mark."""

    sauce: Quantiles
    done: Quantiles


@lru_cache(maxsize=256)
def duration(
    mass_kg: float | None,
    kind: str = "chicken",
    air_c: float | None = None,
    kitchen: Kitchen = Kitchen(),  # noqa: B008  frozen: sharing it is safe
    *,
    off_s: float = 0.0,
    marks_c: tuple[float, float] | None = None,
    outside_c: float = 20.0,
    heat: HeatKind = "charcoal spit",
) -> RoastTime:
    """Time to the marks `marks_c` (sauce, done; default 130 and 165 F) of one bird.

    `air_c` None: a grill in its usual band, wherever in it. `off_s` is spent off the
    heat once the sauce mark is reached. `kitchen` carries what past cooks taught.
    """
    bird = BirdEvidence(1, kind=kind, mass_kg=mass_kg)
    if marks_c is not None:
        bird = BirdEvidence(
            1, kind=kind, mass_kg=mass_kg, sauce_mark_c=marks_c[0], done_mark_c=marks_c[1]
        )
    evidence = Evidence(
        birds=(bird,), kitchen=kitchen, planned_off_s=off_s, outside_c=outside_c, heat=heat
    )
    if air_c is not None:
        evidence = assume(evidence, 0.0, air_c)
    (told,) = forecast(evidence, 0.0).birds
    return RoastTime(told.sauce, told.done)
