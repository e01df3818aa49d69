"""Read-backs: what was recorded, short enough to be heard over a fire."""

from collections.abc import Callable

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.decision import Record
from assistant.cook.rules.due import open_keys, prompts
from assistant.cook.rules.finish import rest_of, spots_to_read
from assistant.cook.rules.lifting import unread_spots
from assistant.cook.rules.readiness import list_item
from assistant.cook.rules.sauces import brush_is_raw
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.heat.degrees import from_scale
from assistant.sentences.ahead import ahead
from assistant.sentences.describe import (
    bath_text,
    bird_spot,
    event_text,
    fuel_text,
    share_text,
    timer_text,
    weight_text,
)
from assistant.sentences.leftovers import leftovers
from assistant.sentences.lifting import not_read
from assistant.sentences.phrasing import (
    birds,
    capital,
    degrees,
    dinner,
    listed,
    minutes_text,
    placed,
    said_degrees,
    span,
)
from assistant.sentences.prompting import short
from assistant.sentences.readying import item_sentence
from assistant.sentences.reasons import hold_advice
from assistant.sentences.spell import Sentence, dotted, spell

Shown = Callable[[cmd.Said], str]
MOST_UNDONE = 3  # facts named one by one when they are taken back

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
    " Then read me the grill.",
    "bird_stuck": "Read another spot, then the grill. Under the band, feed the fire.",
    "thermometer_doubted": "Stir it in ice water; it should read {ice}. Tell me what it says.",
}


def read_back(record: Record, before: Cook, after: Cook, *, stressed: bool = False) -> Sentence:
    """What became a fact. `stressed`: the number is said digit by digit."""

    def plain(said: cmd.Said) -> str:
        return said_degrees(said, after)

    def slow(said: cmd.Said) -> str:
        return plain(said).replace(f"{said.number:g}", dotted(said.number), 1)

    text = _text(record, before, after, plain)
    return Sentence(text, spell(_text(record, before, after, slow) if stressed else text))


def _text(record: Record, before: Cook, after: Cook, shown: Shown) -> str:
    if "dropped" in record.notes:
        return "Dropped. Nothing noted."
    if "clock_kept" in record.notes:
        return "Right. I count on from my last note."
    away_s = [event.away_s for event in record.events if isinstance(event, ev.Resumed)]
    if away_s:
        return f"Away {span(away_s[0])}. I count on from there."
    undone = [event.target for event in record.events if isinstance(event, ev.Undone)]
    if undone:
        again = " Say the number again." if isinstance(record.replies_to, cmd.Correct) else ""
        return f"Taken back: {_undone(before, undone)}.{again}"
    read = _reading(record, after, shown) or _item(record, after)
    return read or _told(record, before, after) or _as_recorded(record, after)


def _told(record: Record, before: Cook, after: Cook) -> str:
    """What is said for the command; "" where only its events can say it."""
    command = record.replies_to
    if command is None or isinstance(command, cmd.BirdReading | cmd.GrillReading | cmd.ListCommand):
        return ""  # read back from what was recorded
    if isinstance(command, cmd.BirdCommand):
        return _bird(command, record, before, after)
    if isinstance(command, cmd.FireCommand):
        return _fire(command, after)
    if isinstance(command, cmd.TimeCommand):
        return _time(command, record, after)
    return _program(command, record, before, after)


def _as_recorded(record: Record, after: Cook) -> str:
    """The facts by themselves, where an older journal holds others than the rules give now."""
    facts = [event_text(one, after) for one in record.events if isinstance(one, ev.Undoable)]
    return f"{capital(listed(facts))}." if facts else "Nothing noted."


def _undone(before: Cook, targets: list[int]) -> str:
    facts = [one.event for one in before.recent if one.seq in targets]
    if len(facts) > MOST_UNDONE:
        return f"{len(facts)} entries"
    named = [
        event_text(one, before) for one in facts if isinstance(one, ev.Undoable | ev.AskedBack)
    ]
    return ", ".join(named) or "the last entry"


def _reading(record: Record, after: Cook, shown: Shown) -> str:
    for event in record.events:
        match event:
            case ev.BirdRead(bird, temperature, said, spot):
                text = f"{capital(bird_spot(bird, spot))}, {shown(said)}"
                text += _corrected(temperature, said, after)
                return f"{text}. {_after_reading(record, after, event)}".strip()
            case ev.GrillRead(temperature, said):
                return f"Grill {shown(said)}.{_band(temperature, after)}"
            case ev.Corrected(target, _, said):
                return f"Corrected: {_whose(target, after)}{shown(said)}."
            case ev.ThermometerChecked(bath, _, said, correction_f):
                read = f"Thermometer {shown(said)} in {bath_text(bath)}"
                follows = _item(record, after)
                return f"{read}. {_correction(correction_f, after)} {follows}".strip()
            case _:  # what else is recorded says nothing by itself
                continue
    return ""


def _item(record: Record, after: Cook) -> str:
    """The item of the readiness list that comes now, where the list moved."""
    if not any(isinstance(event, ev.ReadinessMoved) for event in record.events):
        return ""
    return item_sentence(list_item(after), after)


def _whose(target: int, state: Cook) -> str:
    for bird in state.birds:
        if any(reading.seq == target for reading in bird.readings):
            return f"bird {bird.number}, "
    return "grill " if any(one.seq == target for one in state.fire.readings) else ""


def _corrected(temperature_f: float, said: cmd.Said, state: Cook) -> str:
    """The thermometer's known error, where it moved the number."""
    said_f = from_scale(said.number, said.scale)
    if abs(temperature_f - said_f) < 0.25:
        return ""
    return f", corrected {degrees(temperature_f, state)}"


def _correction(correction_f: float, state: Cook) -> str:
    size = abs(correction_f) / (1.0 if state.scale == "F" else 1.8)
    if size < 0.25:
        return "True enough, no correction."
    way = "low, so I add" if correction_f > 0 else "high, so I take"
    off = "" if correction_f > 0 else " off"
    some = f"{round(size * 2) / 2:g}"
    return f"That's {some} {way} {some}{off} from now on."


def _after_reading(record: Record, after: Cook, event: ev.BirdRead) -> str:
    bird = after.bird(event.bird)
    if "never_on" in record.notes:
        return f"I don't have bird {event.bird} as on."
    if bird is None:
        return ""
    if "done_spot" not in record.notes:
        return ahead(bird, after)
    if not bird.is_done:
        return _colder(bird, event)
    unread = spots_to_read(bird)
    if not unread:
        return ""
    return f"Now {listed(unread) if len(unread) > 1 else 'the ' + unread[0]}."


def _colder(bird: Bird, event: ev.BirdRead) -> str:
    """The other spot, which keeps the bird from being done."""
    for reading in reversed(bird.readings):
        if reading.spot != event.spot and reading.temperature_f < bird.done_mark_f:
            if reading.spot is None:  # an older reading of who knows where
                return f"Now {_other_spot(event.spot)}."
            return f"The {reading.spot} still has to get there."
    return ""


def _other_spot(spot: cmd.Spot | None) -> str:
    return "the breast" if spot == "thigh" else "the thigh" if spot else "breast and thigh"


def _band(temperature_f: float, state: Cook) -> str:
    low_f, high_f = state.fire.band_low_f, state.fire.band_high_f
    unit = 1.0 if state.scale == "F" else 1.8
    if temperature_f < low_f:
        return f" {(low_f - temperature_f) / unit:.0f} under the band."
    if temperature_f > high_f:
        return f" {(temperature_f - high_f) / unit:.0f} over the band."
    return ""


def _bird(
    command: cmd.BirdWeight | cmd.BirdSauce | cmd.BirdsOn | cmd.BirdsOff | cmd.Sauced,
    record: Record,
    before: Cook,
    after: Cook,
) -> str:
    match command:
        case cmd.BirdWeight(bird, pounds, ounces, kilograms):
            return f"Bird {bird}, {weight_text(pounds, ounces, kilograms)}."
        case cmd.BirdSauce(bird, sauce):
            return f"Bird {bird} stays plain." if sauce == "plain" else f"Bird {bird}, {sauce}."
        case cmd.BirdsOn():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdOn)]
            some = f"{capital(birds(numbers))} {_back(numbers, before)}on."
            return some + _off_for(numbers, before, after)
        case cmd.BirdsOff():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdOff)]
            return _off(numbers, record, after)
        case cmd.Sauced():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdSauced)]
            bird_now = after.bird(numbers[0]) if len(numbers) == 1 else None
            name = f"{placed(bird_now, after)}," if bird_now else birds(numbers)
            return f"{capital(name)} sauced.{_brush(before, after)}"


def _off(numbers: list[int], record: Record, after: Cook) -> str:
    """Off: for now, or to rest; what is unread is named at once."""
    some = [bird for number in numbers if (bird := after.bird(number)) is not None]
    name = capital(birds(numbers))
    if "for_now" in record.notes:
        return f"{name} off for now."
    unread = not_read([bird for bird in some if unread_spots(bird)])
    if unread:
        return f"{name} off. {unread} Read {'it' if len(some) == 1 else 'them'} now."
    rest = _resting(numbers, after) if "resting" in record.notes else ""
    return f"{name} off{rest}."


def _brush(before: Cook, after: Cook) -> str:
    """A brush that has met undercooked bird is named, once a cook."""
    if brush_is_raw(before) or not brush_is_raw(after):
        return ""
    return " That brush met raw poultry; a clean one once they are done."


def _resting(numbers: list[int], after: Cook) -> str:
    """The rest, and how far one bird's coldest spot is still to climb."""
    text = ", resting under loose foil"
    bird = after.bird(numbers[0])
    rest = rest_of(bird, after) if bird is not None and len(numbers) == 1 else None
    if rest is None:
        return text
    text = f"{text} till {clock_text(rest.ends_s, after.zone)}"
    if rest.peak_f is None:
        return text
    return f"{text}; it may climb to about {degrees(round(rest.peak_f[1]), after)}"


def _back(numbers: list[int], before: Cook) -> str:
    known = [before.bird(number) for number in numbers]
    return "back " if all(bird is not None and bird.has_been_on for bird in known) else ""


def _off_for(numbers: list[int], before: Cook, after: Cook) -> str:
    """How long one bird was off the heat."""
    bird = before.bird(numbers[0]) if len(numbers) == 1 else None
    off_s = bird.on_heat[-1].end_s if bird is not None and bird.on_heat else None
    return "" if off_s is None else f" {capital(span(after.at_s - off_s))} off."


def _fire(command: cmd.FireCommand, after: Cook) -> str:
    match command:
        case cmd.FuelAdded(count, kind):
            return f"{capital(fuel_text(count, kind or 'briquettes'))} on."
        case cmd.WoodAdded():
            return "Wood on."
        case cmd.LidOff():
            return "Lid off."
        case cmd.LidOn():
            return "Lid on."
        case cmd.FireLit():
            return "Fire lit. Outdoors only: charcoal gives off carbon monoxide."
        case cmd.Vents(which, opening):
            name = {"bottom": "Bottom vent", "top": "Top vent", "both": "Both vents"}[which]
            return f"{name} {share_text(opening)}."
        case cmd.Trouble(trouble, bird):
            ice = "32" if after.scale == "F" else "0"
            of = f"Bird {bird}. " if bird is not None else ""
            return of + ADVICE[trouble].format(ice=ice)


def _time(command: cmd.TimeCommand, record: Record, after: Cook) -> str:
    match command:
        case cmd.ServeAt() | cmd.ServeIn():
            if after.serve_s is None:
                return ""
            return f"Dinner at {dinner(after.serve_s, after.zone, after.at_s)}."
        case cmd.Hold(minutes):
            held = [event.minutes for event in record.events if isinstance(event, ev.Held)]
            by = minutes_text(held[0] if held else minutes or 0.0)
            at = f" Dinner at {dinner(after.serve_s, after.zone)}." if after.serve_s else ""
            return f"Holding {by}.{at} {hold_advice(after)}".strip()
        case cmd.TimerSet(minutes, name):
            return f"{capital(timer_text(minutes, name))}."
        case cmd.TimerCancel():
            gone = [event.name for event in record.events if isinstance(event, ev.TimerCancelled)]
            return f"{capital(f'{gone[0]} timer' if gone and gone[0] else 'timer')} stopped."


def _settled(record: Record, before: Cook, after: Cook) -> str:
    """What "done" settled, and what still waits."""
    keys = [
        key for one in record.events if isinstance(one, ev.PromptAcknowledged) for key in one.keys
    ]
    if not keys:
        return ""
    waiting = set(open_keys(after, max(before.at_s, after.at_s)))
    open_still = [short(one) for one in prompts(after) if one.key in waiting]
    if not open_still:
        return "Right."
    settled = listed(short(one) for one in prompts(before) if one.key in keys)
    return f"Right, {settled}. Still open: {listed(open_still)}."


def _program(command: cmd.TalkFact, record: Record, before: Cook, after: Cook) -> str:
    match command:
        case cmd.Acknowledge() | cmd.ItemDone():
            return _settled(record, before, after)
        case cmd.Snooze():
            until = [one.until_s for one in record.events if isinstance(one, ev.PromptSnoozed)]
            now_s = max(before.at_s, after.at_s)
            return f"Again in {span(until[0] - now_s)}." if until else ""
        case cmd.Correct() | cmd.Undo() | cmd.No():
            return ""  # told above by what they mend
        case cmd.EndCook():
            return f"Cook ended. {leftovers(after)}".strip()
        case cmd.Sleep():
            return "Standing by; timers and take-off calls still speak. Say: listen again."
        case cmd.Wake():
            return "Listening."
        case cmd.Quieter():
            return "Quieter."
        case cmd.Louder():
            return "Louder."
