"""Why a prompt was said: the fact it rests on, in one breath."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.guidance import HOT_HELD_F, LEAST_GRILL_F
from assistant.cook.rules.due_dinner import standing_of
from assistant.cook.rules.forecasts import fire_of
from assistant.cook.rules.standing import TELL_S
from assistant.cook.state import Cook
from assistant.heat.degrees import fahrenheit
from assistant.sentences.phrasing import about, degrees

_PLAIN = {
    "take_off": "Because the coldest spot of the last two read has reached its mark.",
    "sauce": "Because it has read its sauce mark, and sauce needs about 10 minutes to set.",
    "sauce_last": "Because sauce needs about 10 minutes to set before the bird is done.",
    "coat": "Because there is time for a second coat to dry before it is done.",
    "back_on": "Because it cools off the heat, and dinner moves with it.",
    "stuck": "Because it has hardly moved in 20 minutes on the heat.",
    "lid": "Because an open lid lets the heat out.",
    "vents_ask": "Because how far the vents are open decides what would help the fire.",
    "grill": "Because the last grill reading is too old to tell how the fire goes on.",
    "birds_on": "Because that is when they have to go on for dinner, give or take the forecast.",
    "readiness": "Because what is checked now need not be hunted for with greasy hands.",
    "light": "Because coals take 15 to 30 minutes to ash over, and the grill as long to settle.",
    "keep_hot": "Because public guidance is to keep hot food at 140 F or more until served.",
    "chill": "Because public guidance is to chill leftovers within 2 hours off the heat,"
    " 1 above 90 F.",
    "carve": "Because the rest is over.",
    "unread": "Because public guidance is 165 F in every part, breast and thigh.",
    "timer": "Because you asked me to.",
    "reread": "Because what was read there was asked back and never settled.",
    "off_raw": "Because it was never read at its mark, and has long been off the heat.",
    "lift": "Because that bird is under its mark.",
    "end_raw": "Because a bird is still on, or was never read at its mark.",
    "clock": "Because the computer's clock can't be right, so I don't know how long I was away.",
    "doubt": "Because you doubted the thermometer and I know of no check since.",
}
_LOOKS = "Because that is the earliest it may reach its mark."


def hold_advice(state: Cook) -> str:
    """What the trade does with late guests, by how far the birds are; "" where these need the
    time themselves."""
    if any(bird.is_pulled for bird in state.birds):
        return f"Keep what is done above {degrees(HOT_HELD_F, state)}, under foil."
    stands = standing_of(state)
    slack = stands is None or stands.late_s <= -TELL_S
    if not slack or not _may_slow(state):
        return ""
    return f"Bottom vent a notch down; the grill not under {degrees(LEAST_GRILL_F, state)}."


def _may_slow(state: Cook) -> bool:
    """Whether a bird is roasting, over a fire that is not low already."""
    roasting = any(bird.is_on and not bird.is_done for bird in state.birds)
    last = state.fire.readings[-1:]
    return roasting and all(one.temperature_f >= state.fire.band_low_f for one in last)


def why_prompt(kind: str, state: Cook) -> str:
    """The reason of a prompt of this kind, as things stand."""
    match kind:
        case "refuel":
            return _refuel(state)
        case "vents":
            return _vents(state)
        case "dinner":
            return _dinner(state)
        case "look":
            return _LOOKS
    return _PLAIN.get(kind, "Because it is due.")


def _refuel(state: Cook) -> str:
    fire = fire_of(state, state.at_s)
    if fire is None or fire.leaves.q50 is None:
        return "Because the grill was leaving its band."
    rate = round(fire.pieces_per_hour)
    leaves = about(fire.leaves, state.zone)
    return f"Because it burns about {rate} briquettes an hour and leaves its band {leaves}."


def _vents(state: Cook) -> str:
    fire = fire_of(state, state.at_s)
    if fire is None:
        return "Because the grill is leaving its band."
    soon = min(fire.path, key=lambda one: abs(one[0] - state.at_s - 1200.0))
    shown = degrees(round(fahrenheit(soon[2])), state)
    return f"Because the grill would be about {shown} at {clock_text(soon[0], state.zone)}."


def _dinner(state: Cook) -> str:
    stands = standing_of(state)
    if stands is None:
        return "Because the forecast moved."
    return f"Because bird {stands.bird} decides: dinner {about(stands.table, state.zone)}."
