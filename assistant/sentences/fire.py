"""The fire and the grill: read-backs, and their facts as an undo names them."""

from assistant.cook.rules.decision import Record
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.sentences.describe import TROUBLE_NAMES, fuel_text, vent_text
from assistant.sentences.phrasing import capital, said_degrees, span
from assistant.sentences.since import told_at, told_s

ADVICE = {
    "wing_loose": "Motor off, gloves on, tuck the wing and tie it: hot metal."
    " Then lid on, and tell me.",
    "leg_loose": "Motor off, gloves on, tie the legs to the spit with fresh string: hot metal."
    " Then lid on, and tell me.",
    "flare_up": "Lid on, vents nearly shut, stand back, and never water on burning fat."
    " Then read me the grill.",
    "spit_stopped": "Check plug and motor; till then a half turn by hand every minute,"
    " gloves on, hot metal. Later read both sides.",
    "drip_pan_full": "Gloves on, empty it into a metal can away from the coals: hot fat."
    " Then lid on, and tell me.",
    "fire_dying": "Open the bottom vent and add charcoal, outdoors as ever;"
    " it needs 10 to 15 minutes to catch. Then read me the grill.",
    "rain": "Lid on, motor and plug under cover; the grill stays outdoors, for the carbon monoxide."
    " I count on more heat lost; read me the grill.",
    "bird_stuck": "Read another spot, then the grill. Under the band, feed the fire.",
    "fire_too_hot": "Shut the bottom vent to a quarter, lid on, and stand back: hot metal."
    " In ten minutes read me the grill.",
    "burning": "Gloves on, motor off: hot metal. Foil over the dark part, bottom vent"
    " down, lid on, then read me bird and the grill.",
    "thermometer_doubted": "Stir it in ice water; it should read {ice}. Tell me what it says.",
    "wind": "I count on more heat lost and a less steady fire. Lid on; read me the grill soon.",
    "cold": "I count on more heat lost. Read me the grill now and then.",
}
WEATHER = {"wind", "cold"}  # named, for nothing in the advice does
OVER = {
    "flare_up": "Flare-up over{at}: I judge the fire again. Vents back as they were, tell me,"
    " then read me the grill.",
    "spit_stopped": "Turning again{at}, stopped {lasted}. Read both sides of each bird; till then"
    " no forecast changes.",
    "rain": "Rain over{at}. I count on less heat lost again.",
    "wind": "Wind down{at}. I count on less heat lost again, and a steadier fire.",
    "cold": "Warmer{at}. I count on less heat lost again.",
    "wing_loose": "Wing tied{at}. Motor on; tell me when the lid is on.",
    "leg_loose": "Leg tied{at}. Motor on; tell me when the lid is on.",
    "drip_pan_full": "Drip pan empty{at}. Tell me when the lid is on.",
}


def fire_told(command: cmd.FireCommand, record: Record, after: Cook) -> str:
    """The read-back of a command about fire or grill; "" where only its events can say it."""
    match command:
        case cmd.GrillReading():
            return ""
        case cmd.FuelAdded(float() as count, kind):
            some = capital(fuel_text(count, kind or "briquettes"))
            return f"{some} on{told_at(record, after)}."
        case cmd.FuelAdded(_, kind):
            handful = fuel_text(after.fire.fuel[-1].count, kind or "briquettes")
            return f"Charcoal on. I take it as {handful}{told_at(record, after)}."
        case cmd.WoodAdded():
            return f"Wood on{told_at(record, after)}."
        case cmd.LidOff():
            return f"Lid off{told_at(record, after, 'since')}."
        case cmd.LidOn():
            return f"Lid on{told_at(record, after, 'since')}."
        case cmd.FireLit():
            lit = f"Fire lit{told_at(record, after)}."
            return f"{lit} Outdoors only: charcoal gives off carbon monoxide."
        case cmd.Vents(which, float() as opening):
            return f"{capital(vent_text(which, opening))}{told_at(record, after, 'since')}."
        case cmd.Vents(which):
            at = told_at(record, after, "since") or " now"
            return f"{capital(_stands(which, after))}{at}."
        case cmd.Trouble(trouble, bird):
            ice = "32" if after.scale == "F" else "0"
            name = f"{capital(TROUBLE_NAMES[trouble])}{told_at(record, after)}. "
            of = f"Bird {bird}. " if bird is not None else ""
            said = name if trouble in WEATHER or told_s(record) is not None else ""
            return said + of + ADVICE[trouble].format(ice=ice)
        case cmd.TroubleOver(trouble):
            return _over(trouble, record, after)


def _over(kind: cmd.EndingKind, record: Record, after: Cook) -> str:
    """The end of a trouble, and what that changes."""
    if "never_told" in record.notes:
        return f"Good. I had no {TROUBLE_NAMES[kind]} noted, so nothing changes."
    lasted = [one for one in after.troubles if one.kind == kind and one.ended_s is not None]
    since_s, till_s = lasted[-1].at_s, lasted[-1].ended_s
    for_ = span((till_s or since_s) - since_s)
    return f"{OVER[kind].format(at=told_at(record, after), lasted=for_)}"


def _stands(which: cmd.Vent, after: Cook) -> str:
    """How the vents stand after a move of which only the way was told."""
    at = after.fire.vents[-1]
    if which == "both" and at.bottom != at.top:
        return f"{vent_text('bottom', at.bottom)}, {vent_text('top', at.top)}"
    return vent_text(which, at.top if which == "top" else at.bottom)


def fire_fact(event: ev.FireEvent, state: Cook) -> str:
    """A recorded fact of fire or grill, as an undo names it."""
    match event:
        case ev.GrillRead(_, said):
            return f"grill {said_degrees(said, state)}"
        case ev.FuelPut(count, kind, vague=vague):
            return ("about " if vague else "") + fuel_text(count, kind)
        case ev.VentsSet(which, opening):
            return vent_text(which, opening)
        case ev.TroubleNoted(kind, bird):
            return TROUBLE_NAMES[kind] + (f" on bird {bird}" if bird else "")
        case ev.TroubleEnded(kind):
            return f"the end of the {TROUBLE_NAMES[kind]}"
        case ev.WoodPut():
            return "the wood"
        case ev.LidOpened():
            return "lid off"
        case ev.LidClosed():
            return "lid on"
        case ev.FireStarted():
            return "fire lit"
