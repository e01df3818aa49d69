"""Read-backs: what was recorded, short enough to be heard over a fire."""

from collections.abc import Callable

from assistant.cook.rules.decision import Record
from assistant.cook.rules.finish import spots_to_read
from assistant.cook.rules.readiness import list_item
from assistant.cook.state import Bird, Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.heat.degrees import from_scale
from assistant.sentences.ahead import ahead
from assistant.sentences.birds import bird_fact, bird_told
from assistant.sentences.describe import bath_text, bird_spot, command_text
from assistant.sentences.dinner import dinner_fact, dinner_told
from assistant.sentences.fire import fire_fact, fire_told
from assistant.sentences.phrasing import capital, degrees, listed, said_degrees, span
from assistant.sentences.readying import item_sentence
from assistant.sentences.since import told_at
from assistant.sentences.spell import Sentence, dotted, spell
from assistant.sentences.stops import behind
from assistant.sentences.talk import talk_told

Shown = Callable[[cmd.Said], str]
MOST_UNDONE = 3  # facts named one by one when they are taken back


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
    if "handful" in record.notes:
        return "I leave it at a handful."
    undone = [event.target for event in record.events if isinstance(event, ev.Undone)]
    if undone and not {"counted", "moved"} & set(record.notes):
        again = " Say the number again." if isinstance(record.replies_to, cmd.Correct) else ""
        return f"Taken back: {_undone(before, undone)}.{again}"
    read = _reading(record, after, shown) or _item(record, after)
    return read or _told(record, before, after) or _as_recorded(record, after)


def _told(record: Record, before: Cook, after: Cook) -> str:
    """What is said for the command; "" where only its events can say it."""
    command = record.replies_to
    if command is None or isinstance(command, cmd.ListCommand):
        return ""  # read back from what was recorded
    if isinstance(command, cmd.BirdCommand):
        return bird_told(command, record, before, after)
    if isinstance(command, cmd.FireCommand):
        return fire_told(command, record, after)
    if isinstance(command, cmd.DinnerCommand):
        return dinner_told(command, record, after)
    return talk_told(command, record, before, after)


def _as_recorded(record: Record, after: Cook) -> str:
    """The facts by themselves, where an older journal holds others than the rules give now."""
    facts = [event_text(one, after) for one in record.events if isinstance(one, ev.Undoable)]
    return f"{capital(listed(facts))}." if facts else "Nothing noted."


def event_text(event: ev.Undoable | ev.AskedBack, state: Cook) -> str:
    """A recorded fact, as an undo names it."""
    if isinstance(event, ev.BirdEvent):
        return bird_fact(event, state)
    if isinstance(event, ev.FireEvent):
        return fire_fact(event, state)
    if isinstance(event, ev.DinnerEvent):
        return dinner_fact(event, state)
    if isinstance(event, ev.ThermometerChecked):
        return f"thermometer {degrees(event.temperature, state)} in {bath_text(event.bath)}"
    return command_text(event.options[0], state)


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
                text += _corrected(temperature, said, after) + told_at(record, after)
                return f"{text}. {_after_reading(record, after, event)}".strip()
            case ev.GrillRead(temperature, said):
                at = told_at(record, after)
                return f"Grill {shown(said)}{at}.{_band(temperature, after)}"
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
        return _off_and_under(bird, after) or ahead(bird, after)
    if not bird.is_done:
        return _colder(bird, event)
    unread = spots_to_read(bird)
    if not unread:
        return behind(bird, after)
    return f"Now {listed(unread) if len(unread) > 1 else 'the ' + unread[0]}."


def _off_and_under(bird: Bird, state: Cook) -> str:
    """It was taken off as done, and this spot is not."""
    was_done = bird.off_for_good or any(r.temperature_f >= bird.done_mark_f for r in bird.readings)
    if bird.is_on or not was_done:
        return ""
    return f"Under {degrees(bird.done_mark_f, state)}: back on the heat."


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
