"""What is said about the fire: hedged, since a dial is no measurement, and relative, since
a handful and a vent are."""

from typing import Literal

from assistant.cook.rules.due_fire import suggested
from assistant.cook.rules.forecasts import fire_of
from assistant.cook.state import Cook
from assistant.heat.fire.suggest import Advice
from assistant.sentences.describe import vent_text
from assistant.sentences.phrasing import span

HANDFUL = 6  # briquettes
ROUND_S = 300.0
STEADY_S = 900.0
_BY = {1: "a quarter", 2: "a half", 3: "three quarters"}  # of its travel


def fed(count: int, out_s: float, now_s: float) -> str:
    """What the fire may do and what would help: "The fire may sag in about 25 minutes: a
    handful of charcoal now, or read the dial in ten." `out_s`: when it is out of its band."""
    some = "a handful" if count <= HANDFUL else "two handfuls"
    return _hedged("sag", "stay low", f"{some} of charcoal now", out_s - now_s)


def turned(direction: Literal["open", "close"], by: float, out_s: float, now_s: float) -> str:
    """The same of the bottom vent, by a share of its travel: "bottom vent a quarter further
    shut"."""
    way = "open" if direction == "open" else "shut"
    some = _BY.get(round(4 * by))
    vent = f"bottom vent {some} further {way}" if some else f"bottom vent all the way {way}"
    may = ("run hot", "stay hot") if direction == "close" else ("sag", "stay low")
    return _hedged(*may, vent, out_s - now_s)


def fire_word(advice: Advice, now_s: float) -> str:
    """Advice on the fire, in words; "" for the question how the vents stand."""
    match advice.action:
        case "add":
            return fed(advice.count, advice.at_s, now_s)
        case "open" | "close":
            return turned(advice.action, advice.by, advice.at_s, now_s)
        case "ask":
            return ""


def fire_help(state: Cook, now_s: float) -> str:
    """What may help the fire, for a board: nobody says it. "" where nothing would, or where
    it would seem to make worse what the dial shows now."""
    shown = suggested(state, now_s)
    if shown is None or _against_the_dial(shown, state):
        return ""
    match shown.action:
        case "add":
            return f"about {shown.count} briquettes may help"
        case "open" | "close":
            return f"{vent_text('bottom', shown.opening)} may help"
        case "ask":
            return "" if _is_steady(state, now_s) else "vents not told: how far open?"


def _against_the_dial(shown: Advice, state: Cook) -> bool:
    """Whether it is for where the fire is heading, and the grill stands on the other side."""
    read_f = state.fire.readings[-1].temperature_f
    if shown.action == "close":
        return read_f < state.fire.band_low_f
    return shown.action in {"open", "add"} and read_f > state.fire.band_high_f


def _is_steady(state: Cook, now_s: float) -> bool:
    """Whether the grill is in its band and likely to stay there for a quarter of an hour."""
    read_f = state.fire.readings[-1].temperature_f
    forecast = fire_of(state, now_s)
    leaves_s = forecast.leaves.q50 if forecast is not None else None
    soon = leaves_s is not None and leaves_s < now_s + STEADY_S
    return state.fire.band_low_f <= read_f <= state.fire.band_high_f and not soon


def _hedged(soon: str, already: str, what: str, ahead_s: float) -> str:
    ahead_s = ROUND_S * round(ahead_s / ROUND_S)
    may = f"{soon} in about {span(ahead_s)}" if ahead_s > ROUND_S else already
    return f"The fire may {may}: {what}, or read the dial in ten."
