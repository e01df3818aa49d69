"""When each bird gets its sauce, and what the brush has touched. Pure.

No published time-to-burn of a sauce was found. Sugars brown by surface temperature
(fructose from 230 F, sucrose from 320 F), and a wet surface stays near boiling, so
the drying sets the clock: the more sugar, the later it goes on. The minutes here
are common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary.commands import Sugar
from assistant.heat.bird.evidence import BirdForecast

# Words in a sauce's name that tell its sugar.
SWEET = {
    "apricot", "honey", "maple", "molasses", "barbecue", "teriyaki", "hoisin", "plum", "peach",
    "mango", "orange", "marmalade", "cherry", "cola", "agave", "sugar", "sweet", "pineapple",
    "fig", "quince", "cranberry", "jam",
}  # fmt: skip
UNSWEET = {
    "plain", "butter", "herb", "herbs", "garlic", "oil", "salt", "pepper", "mustard", "lemon",
    "lime", "vinegar", "rosemary", "thyme", "chimichurri", "pesto", "yogurt",
}  # fmt: skip

SET_S = 600.0  # a sauce needs about ten minutes on the heat to set
SWEET_OPEN_S = 1500.0  # a sweet one goes on no earlier than this before done
COAT_APART_S = 480.0  # between two coats
LAST_COAT_S = SET_S  # a second coat nearer done would still be wet


@dataclass(frozen=True, slots=True)
class Window:
    """When a bird's sauce goes on: epoch seconds. `second_s`: a second coat, if time allows."""

    opens_s: float
    closes_s: float
    second_s: float | None


def sugar_of(name: str, known: Sequence[tuple[str, Sugar]] = ()) -> Sugar:
    """Return a sauce's sugar level: the cook's own word first, then its name's."""
    own = dict(known).get(name)
    if own is not None:
        return own
    words = set(name.split())
    if words & SWEET:
        return "high"
    return "none" if words & UNSWEET else "some"


def window(bird: Bird, forecast: BirdForecast, now_s: float) -> Window | None:
    """Return when this bird's sauce goes on; None for a plain bird, or without a forecast.

    It opens at the sauce mark (for a sweet sauce not before 25 min ahead of done) and
    closes ten minutes before done. A second coat goes on eight minutes after the first,
    not before `now_s`, and not where the bird may be done by then.
    """
    mark_s, done_s = forecast.sauce.q50, forecast.done.q50
    if bird.is_plain or bird.sauce is None or done_s is None:
        return None
    opens_s = now_s if mark_s is None else mark_s
    if bird.sugar == "high":
        opens_s = max(opens_s, done_s - SWEET_OPEN_S)
    closes_s = max(opens_s, done_s - SET_S)
    first_s = bird.sauced_s[-1] if bird.sauced_s else opens_s
    if bird.sauced_s and bird.on_heat:  # it sets over the fire only
        first_s = max(first_s, bird.on_heat[-1].start_s)
    second_s = max(first_s + COAT_APART_S, now_s)
    soonest_s = min(done_s - LAST_COAT_S, forecast.done.q10 or done_s)
    coat = second_s <= soonest_s and len(bird.sauced_s) < 2
    return Window(opens_s, closes_s, second_s if coat else None)


def brush_order(birds: Sequence[Bird]) -> tuple[Bird, ...]:
    """Return the birds of one stop in the order they are sauced: the sugary one, which
    burns soonest, last."""
    rank: dict[Sugar, int] = {"none": 0, "some": 1, "high": 2}
    return tuple(sorted(birds, key=lambda bird: (rank[bird.sugar], bird.number)))


def brush_is_raw(state: Cook) -> bool:
    """Return whether a brush has touched a bird below its done mark: that brush and
    the sauce it went back into have touched raw poultry."""
    return any(_sauced_raw(bird) for bird in state.birds)


def _sauced_raw(bird: Bird) -> bool:
    for at_s in bird.sauced_s:
        before = [one.temperature_f for one in bird.readings if one.at_s <= at_s][-2:]
        if not before or min(before) < bird.done_mark_f:
            return True
    return False
