"""How much charcoal a plan burns, with its spread, and when it goes on. Pure.

From the same heat balance the fire's forecast starts with (assistant.heat.fire.kettle):
what the wall and the birds take, over what one briquette leaves in the kettle. The
spread is that of its unknowns, narrowed by what past cooks taught.
"""

from dataclasses import dataclass
from math import ceil, exp, sqrt

from assistant.heat.bird.evidence import Kitchen
from assistant.heat.fire.kettle import (
    BIRD_KG,
    BIRD_SURFACE_C,
    BIRD_W,
    HEAT,
    MOST_LOAD,
    PRIOR,
)

Z10 = 1.2816  # the normal distribution's 0.9 quantile
BIRD_AIR_C = 188.0  # what BIRD_W was worked out at
TOP_UP_S = 2700.0  # charcoal goes on every three quarters of an hour
CATCHES_S = 900.0  # before it is needed
NO_MORE_S = 1200.0  # what goes on later than this before the end burns for nothing


@dataclass(frozen=True, slots=True)
class Fuel:
    """Briquettes of 25 g: `low`, `likely` and `high` in all (0.1, 0.5, 0.9 quantile), and
    how many go on when, epoch seconds, the first with the match."""

    low: float
    likely: float
    high: float
    loads: tuple[tuple[float, int], ...]

    @property
    def chimneys(self) -> tuple[float, float, float]:
        """The same in chimneys, low, likely, high."""
        full = HEAT["chimney"]
        return self.low / full, self.likely / full, self.high / full


def fuel_for(
    light_s: float,
    on_s: float,
    off_s: float,
    masses_kg: tuple[float, ...],
    *,
    air_c: float,
    outside_c: float,
    kitchen: Kitchen | None = None,
) -> Fuel:
    """Return the charcoal from the match at `light_s` to the last bird off at `off_s`, with
    birds of these masses on the spit at once from `on_s`."""
    value, spread = _unknowns(kitchen or Kitchen())
    wall_w = value["fire_loss"] * (air_c - outside_c)
    flesh_k = air_c - BIRD_SURFACE_C
    share = sum((mass_kg / BIRD_KG) ** (2 / 3) for mass_kg in masses_kg)
    birds_w = value["fire_birds"] * BIRD_W * share * flesh_k / (BIRD_AIR_C - BIRD_SURFACE_C)
    birds_w = min(birds_w, MOST_LOAD * value["fire_loss"] * flesh_k)
    power_w = wall_w + birds_w
    a_second = power_w / value["fire_heat"]
    glowing = 0.5 * a_second * value["fire_life"]  # heat still in the grill at the end
    likely = a_second * (off_s - light_s) + glowing
    sd = sqrt(
        spread["fire_heat"] ** 2
        + (spread["fire_loss"] * wall_w / power_w) ** 2
        + (spread["fire_birds"] * birds_w / power_w) ** 2
    )
    loads = _loads(a_second, glowing, light_s, on_s, off_s)
    return Fuel(likely * exp(-Z10 * sd), likely, likely * exp(Z10 * sd), loads)


def _unknowns(kitchen: Kitchen) -> tuple[dict[str, float], dict[str, float]]:
    """Return the medians and the log spreads, moved by what past cooks taught."""
    learned = {name: (mean, sd) for name, mean, sd in kitchen.shift}
    value, spread = {}, {}
    for name, median, sd in PRIOR:
        shift, narrowed = learned.get(name, (0.0, sd))
        value[name], spread[name] = median * exp(shift), narrowed
    return value, spread


def _loads(
    a_second: float, glowing: float, light_s: float, on_s: float, off_s: float
) -> tuple[tuple[float, int], ...]:
    """Return the first pile, which lasts to the first top-up, and the top-ups."""
    first_up_s = on_s + TOP_UP_S
    lasts_s = min(first_up_s + CATCHES_S, off_s)
    loads = [(light_s, ceil(a_second * (lasts_s - light_s) + glowing))]
    at_s = first_up_s
    while at_s < off_s - NO_MORE_S:
        until_s = min(at_s + CATCHES_S + TOP_UP_S, off_s)
        loads.append((at_s, ceil(a_second * (until_s - at_s - CATCHES_S))))
        at_s += TOP_UP_S
    return tuple(loads)
