"""What the forecaster is told, and what it answers.

Numerics here are SI floats: seconds (any origin, the same for all fields),
kelvin differences, degrees Celsius for temperatures, kilograms. All values are
frozen and hashable so that a forecast can be cached by its evidence.
"""

from dataclasses import dataclass, field
from typing import Literal

HeatKind = Literal["charcoal spit", "gas spit", "indirect", "oven"]
Site = Literal["breast", "thigh"]
SITES: tuple[Site, ...] = ("breast", "thigh")
SAME_LOOK_S = 90.0


@dataclass(frozen=True, slots=True)
class Span:
    """From `start_s` to `end_s`; an end of None has not come yet."""

    start_s: float
    end_s: float | None = None


@dataclass(frozen=True, slots=True)
class CoreReading:
    """One instant-read temperature in the meat. `spot` may be None (not said).
    `confirmed`: asked back and insisted on, so no slip of the tongue."""

    at_s: float
    temperature_c: float
    spot: str | None = None
    confirmed: bool = False


@dataclass(frozen=True, slots=True)
class AirReading:
    """One spoken grill temperature."""

    at_s: float
    temperature_c: float


@dataclass(frozen=True, slots=True)
class BirdEvidence:
    """`on_heat`: when it was on the spit over the fire. `kind`: chicken, hen,
    duck, turkey, roast. `mass_kg` None: nobody said. `planned_off_s`: off the heat
    for saucing, still to come; None: as the evidence says for all birds; 0 for a
    plain bird."""

    number: int
    kind: str = "chicken"
    mass_kg: float | None = None
    on_heat: tuple[Span, ...] = ()
    readings: tuple[CoreReading, ...] = ()
    sauce_mark_c: float = (130.0 - 32.0) / 1.8
    done_mark_c: float = (165.0 - 32.0) / 1.8
    planned_off_s: float | None = None

    @property
    def read_at(self) -> tuple[Site, ...]:
        """The site of each reading. One whose spot was not said is of the breast, where
        whole birds are read; a second one within the same look is of the thigh."""
        found: list[Site] = []
        breast_s = float("-inf")
        for one in self.readings:
            again = one.spot is None and one.at_s - breast_s <= SAME_LOOK_S
            found.append("thigh" if again or one.spot == "thigh" else "breast")
            breast_s = one.at_s if found[-1] == "breast" and one.spot is None else breast_s
        return tuple(found)

    @property
    def sites(self) -> tuple[Site, ...]:
        """What the cook checks it by, as read so far: the breast, the thigh, or both."""
        read = set(self.read_at) or {"breast"}
        return tuple(site for site in SITES if site in read)


Shift = tuple[tuple[str, float, float], ...]
Ties = tuple[tuple[float, ...], ...]


@dataclass(frozen=True, slots=True)
class Kitchen:
    """What past cooks taught about this kitchen: means and standard deviations
    of log multipliers on the world prior, by parameter name; empty: world prior.
    `ties`: the correlation matrix of the shifts, row by row; empty: none.
    `scatter`: how much cooks and birds here vary beside the world's. `grill_shift_c`,
    `grill_sd_c`: where this cook holds the grill, from the middle of its band.
    `elsewhere`: shifts and ties over other kinds of heat than the charcoal spit."""

    cooks: int = 0
    shift: Shift = ()
    ties: Ties = ()
    scatter: float = 1.0
    grill_shift_c: float = 0.0
    grill_sd_c: float | None = None
    elsewhere: tuple[tuple[str, Shift, Ties], ...] = ()

    def over(self, heat: HeatKind) -> tuple[Shift, Ties]:
        """What was learned for one kind of heat; the charcoal spit's where none was kept."""
        found = ((shift, ties) for name, shift, ties in self.elsewhere if name == heat)
        return next(found, (self.shift, self.ties))


@dataclass(frozen=True, slots=True)
class Evidence:
    """Everything recorded that bears on the birds' temperatures."""

    birds: tuple[BirdEvidence, ...]
    grill: tuple[AirReading, ...] = ()
    lid_open: tuple[Span, ...] = ()
    fuel_added_s: tuple[float, ...] = ()
    band_c: tuple[float, float] = ((350.0 - 32.0) / 1.8, (400.0 - 32.0) / 1.8)
    outside_c: float = 20.0
    kitchen: Kitchen = field(default_factory=Kitchen)
    planned_off_s: float = 600.0  # off the heat for saucing, still to come
    heat: HeatKind = "charcoal spit"


@dataclass(frozen=True, slots=True)
class Quantiles:
    """0.1, 0.5 and 0.9 quantiles, seconds on the evidence's own axis; a None
    quantile is never reached in the ensemble's horizon."""

    q10: float | None
    q50: float | None
    q90: float | None


@dataclass(frozen=True, slots=True)
class BirdForecast:
    """`core_now_c`: 0.1/0.5/0.9 quantiles of the coldest spot's temperature now.
    `at_sauce`, `at_done`: probability of being at the mark now.
    `spread_from`: share of the done time's variance by input, largest first
    (names: grill, size, surface, start, probe). `checked`: by which sites it is done."""

    number: int
    sauce: Quantiles
    done: Quantiles
    core_now_c: tuple[float, float, float]
    at_sauce: float
    at_done: float
    spread_from: tuple[tuple[str, float], ...] = ()
    checked: tuple[Site, ...] = ("breast",)


@dataclass(frozen=True, slots=True)
class Look:
    """When the next reading is worth its open lid, and of which bird."""

    bird: int
    at_s: float
    reason: str  # "sauce", "done", "spread", "first"


@dataclass(frozen=True, slots=True)
class Forecast:
    """Every bird's forecast, in the evidence's order; `look` None: nothing to look for.
    `others`: when each other bird would be worth a look of its own, soonest first."""

    birds: tuple[BirdForecast, ...]
    look: Look | None
    others: tuple[Look, ...] = ()
