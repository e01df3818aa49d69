"""Trouble, and what the trade does about it. Pure: keys here, words in sentences.

Where a trouble bears on the forecast, its effect is named: it goes into the journal
with the trouble, and the forecasts' evidence takes it up.
"""

from dataclasses import replace
from math import inf

from assistant.cook.state import AirRead, Cook, Trouble
from assistant.cook.vocabulary.commands import TroubleKind
from assistant.heat.bird.evidence import Span
from assistant.heat.fire.evidence import Chill

# "lid": the open lid and time off count as they are told; "fire_low": the fire is taken as
# below its band; "cold_rain", "wind", "cold": more heat lost while it lasts, and in a wind
# the fire is less sure; "uneven": both sides have to be read; "doubt": a check is due.
EFFECTS: dict[TroubleKind, str] = {
    "wing_loose": "lid", "leg_loose": "lid", "spit_stopped": "uneven", "flare_up": "lid",
    "drip_pan_full": "lid", "fire_dying": "fire_low", "rain": "cold_rain", "bird_stuck": "none",
    "thermometer_doubted": "doubt", "fire_too_hot": "none", "burning": "none",
    "wind": "wind", "cold": "cold",
}  # fmt: skip
FIRE_LOW_F = 25.0  # a dying fire nobody read is taken to stand this far below its band
# On the lid, as if the evening were this much colder; common practice, no source.
LOSS_F = {"cold_rain": 40.0, "wind": 30.0, "cold": 20.0}
LASTS_S = {"flare_up": 15 * 60.0}  # what ends by itself where nobody tells
FRESH_S = 600.0


def effect_of(kind: TroubleKind) -> str:
    """Return the name of a trouble's effect on the forecast."""
    return EFFECTS[kind]


def fire_low(state: Cook) -> tuple[AirRead, ...]:
    """Return the readings that a fire called dying stands for: below its band, unless
    the dial was read within ten minutes."""
    read_s = [one.at_s for one in state.fire.readings]
    return tuple(
        AirRead(one.at_s, state.fire.band_low_f - FIRE_LOW_F, 0)
        for one in state.troubles
        if effect_of(one.kind) == "fire_low"
        and not any(abs(at_s - one.at_s) <= FRESH_S for at_s in read_s)
    )


def is_open(state: Cook, kind: TroubleKind) -> bool:
    """Return whether a trouble lasts now: it was told, and neither its end nor its time came."""
    return any(
        one.kind == kind and one.ended_s is None and state.at_s - one.at_s < LASTS_S.get(kind, inf)
        for one in state.troubles
    )


def ended(troubles: tuple[Trouble, ...], kind: TroubleKind, at_s: float) -> tuple[Trouble, ...]:
    """Return the troubles with those of a kind that last ended at `at_s`."""
    return tuple(
        replace(one, ended_s=max(at_s, one.at_s))
        if one.kind == kind and one.ended_s is None
        else one
        for one in troubles
    )


def weather(state: Cook) -> tuple[Chill, ...]:
    """Return rain, wind and cold on the grill, each while it lasts; told twice, once."""
    found: dict[TroubleKind, list[Chill]] = {}
    for one in state.troubles:
        loss_f = LOSS_F.get(effect_of(one.kind))
        before = found.setdefault(one.kind, [])
        if loss_f is None or (before and before[-1].span.end_s is None):
            continue
        before.append(Chill(Span(one.at_s, one.ended_s), loss_f / 1.8, one.kind == "wind"))
    return tuple(chill for some in found.values() for chill in some)


def thermometer_is_doubted(state: Cook) -> bool:
    """Return whether a doubt has not been answered by a check since."""
    doubts = [one.at_s for one in state.troubles if one.kind == "thermometer_doubted"]
    return bool(doubts) and (state.checked_s is None or state.checked_s < doubts[-1])
