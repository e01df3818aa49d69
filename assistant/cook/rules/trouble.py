"""Trouble, and what the trade does about it. Pure: keys here, words in sentences.

Where a trouble bears on the forecast, its effect is named: it goes into the journal
with the trouble, and the forecasts' evidence takes it up.
"""

from assistant.cook.state import AirRead, Cook
from assistant.cook.vocabulary.commands import TroubleKind

# "lid": the open lid and time off count as they are told; "fire_low": the fire is taken as
# below its band; "cold_rain": more heat lost; "uneven": both sides have to be read; "doubt":
# a check is due.
EFFECTS: dict[TroubleKind, str] = {
    "wing_loose": "lid", "leg_loose": "lid", "spit_stopped": "uneven", "flare_up": "lid",
    "drip_pan_full": "lid", "fire_dying": "fire_low", "rain": "cold_rain", "bird_stuck": "none",
    "thermometer_doubted": "doubt", "fire_too_hot": "none", "burning": "none",
}  # fmt: skip
FIRE_LOW_F = 25.0  # a dying fire nobody read is taken to stand this far below its band
RAIN_LOSS_F = 40.0  # rain on the lid, as if the evening were this much colder
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


def outside_f(state: Cook) -> float:
    """Return the evening's temperature; rain on the lid makes it colder for the grill."""
    rains = any(effect_of(one.kind) == "cold_rain" for one in state.troubles)
    return state.outside_f - (RAIN_LOSS_F if rains else 0.0)


def thermometer_is_doubted(state: Cook) -> bool:
    """Return whether a doubt has not been answered by a check since."""
    doubts = [one.at_s for one in state.troubles if one.kind == "thermometer_doubted"]
    return bool(doubts) and (state.checked_s is None or state.checked_s < doubts[-1])
