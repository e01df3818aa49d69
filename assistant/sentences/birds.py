"""The birds: read-backs, and their facts as an undo names them."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.decision import Record
from assistant.cook.rules.finish import rest_of, rested_s
from assistant.cook.rules.lifting import is_below, unread_spots
from assistant.cook.rules.sauces import brush_is_raw
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.sentences.describe import bird_spot, weight_text
from assistant.sentences.lifting import not_read, where_they_stand
from assistant.sentences.phrasing import birds, capital, degrees, placed, said_degrees, span
from assistant.sentences.since import told_at, told_s
from assistant.sentences.stops import still_on


def bird_told(command: cmd.BirdCommand, record: Record, before: Cook, after: Cook) -> str:
    """The read-back of a command about birds; "" where only its events can say it."""
    match command:
        case cmd.BirdReading():
            return ""
        case cmd.BirdWeight(bird, pounds, ounces, kilograms):
            return f"Bird {bird}, {weight_text(pounds, ounces, kilograms)}."
        case cmd.BirdSauce(bird, sauce):
            return f"Bird {bird} stays plain." if sauce == "plain" else f"Bird {bird}, {sauce}."
        case cmd.BirdSkin(bird, skin):
            has = "has its skin" if skin == "on" else "has no skin: it dries and browns sooner"
            return f"Bird {bird} {has}. Noted; it changes nothing I compute."
        case cmd.BirdsOn():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdOn)]
            since = told_at(record, after, "since")
            some = f"{capital(birds(numbers))} {_back(numbers, before)}on{since}."
            return some + _off_for(numbers, before, record, after)
        case cmd.BirdsOff():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdOff)]
            return _off(numbers, record, after)
        case cmd.Sauced():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdSauced)]
            bird_now = after.bird(numbers[0]) if len(numbers) == 1 else None
            name = f"{placed(bird_now, after)}," if bird_now else birds(numbers)
            return f"{capital(name)} sauced{told_at(record, after)}.{_brush(before, after)}"
        case cmd.Rest():
            numbers = [event.bird for event in record.events if isinstance(event, ev.BirdOff)]
            return _off(numbers, record, after)
        case cmd.Carve():
            numbers = [event.bird for event in record.events if isinstance(event, ev.Carved)]
            return _carving(numbers, after)
        case cmd.MotorSide(side):
            return f"Motor on the {side}: bird 1 is the one on the {side}."


def bird_fact(event: ev.BirdEvent, state: Cook) -> str:
    """A recorded fact of a bird, as an undo names it."""
    match event:
        case ev.BirdRead(bird, _, said, spot):
            return f"{bird_spot(bird, spot)}, {said_degrees(said, state)}"
        case ev.BirdWeighed(bird, _, pounds, ounces, kilograms):
            return f"bird {bird}, {weight_text(pounds, ounces, kilograms)}"
        case ev.SauceAssigned(bird, sauce):
            return f"bird {bird}, {sauce}"
        case ev.SkinTold(bird, skin):
            return f"bird {bird}, {'its' if skin == 'on' else 'no'} skin"
        case ev.BirdOn(bird):
            return f"bird {bird} on"
        case ev.BirdOff(bird):
            return f"bird {bird} off"
        case ev.BirdSauced(bird):
            return f"bird {bird} sauced"
        case ev.Carved(bird):
            return f"carving bird {bird}"
        case ev.MotorSideTold(side):
            return f"motor on the {side}"


def _off(numbers: list[int], record: Record, after: Cook) -> str:
    """Off: for now, or to rest; what is unread is named at once."""
    some = [bird for number in numbers if (bird := after.bird(number)) is not None]
    name = capital(birds(numbers))
    if "for_now" in record.notes:
        return f"{name} off for now."
    since = told_at(record, after, "since")
    left = [bird for bird in some if unread_spots(bird)]
    unread = not_read(left)
    if unread and len(left) < len(some):
        whose, them = birds(bird.number for bird in left), "it" if len(left) == 1 else "them"
        return f"{name} off{since}. {capital(whose)}: {unread.lower()} Read {them} now."
    if unread:
        return f"{name} off{since}. {unread} Read {'it' if len(some) == 1 else 'them'} now."
    rest = _resting(numbers, after) if "resting" in record.notes else ""
    return f"{name} off{since}{rest}.{still_on(numbers, after)}"


def _carving(numbers: list[int], after: Cook) -> str:
    """The carving, with what was never read at its mark, and the clean board."""
    some = [bird for number in numbers if (bird := after.bird(number)) is not None]
    open_still = [bird for bird in some if is_below(bird) or unread_spots(bird)]
    text = f"Carving {birds(numbers)}. "
    if open_still:
        mark = degrees(max(bird.done_mark_f for bird in open_still), after)
        text += (
            f"Wait: {where_they_stand(open_still, after)}. Read {mark} in breast and thigh first. "
        )
    return text + "Clean board and knife, that met no raw poultry."


def _brush(before: Cook, after: Cook) -> str:
    """A brush that has met undercooked bird is named, once a cook."""
    if brush_is_raw(before) or not brush_is_raw(after):
        return ""
    return " That brush met raw poultry; a clean one once they are done."


def _resting(numbers: list[int], after: Cook) -> str:
    """The rest, and how far one bird's coldest spot is still to climb."""
    text = ", resting under loose foil"
    bird = after.bird(numbers[0])
    if len(numbers) > 1:
        some = [one for number in numbers if (one := after.bird(number)) is not None]
        return f"{text} till {clock_text(max(rested_s(one) for one in some), after.zone)}"
    rest = rest_of(bird, after) if bird is not None else None
    if rest is None:
        return text
    text = f"{text} till {clock_text(rest.ends_s, after.zone)}"
    if rest.peak_f is None:
        return text
    return f"{text}; it may climb to about {degrees(round(rest.peak_f[1]), after)}"


def _back(numbers: list[int], before: Cook) -> str:
    known = [before.bird(number) for number in numbers]
    return (
        "back "
        if all(one is not None and one.has_been_on and not one.is_on for one in known)
        else ""
    )


def _off_for(numbers: list[int], before: Cook, record: Record, after: Cook) -> str:
    """How long one bird was off the heat."""
    bird = before.bird(numbers[0]) if len(numbers) == 1 else None
    off_s = bird.on_heat[-1].end_s if bird is not None and bird.on_heat else None
    back_s = told_s(record) or after.at_s
    return "" if off_s is None else f" {capital(span(back_s - off_s))} off."
