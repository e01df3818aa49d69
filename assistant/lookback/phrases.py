"""Short printed phrases for looking back: clock times, spans, events, prompts."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.codec import event_json
from assistant.cook.vocabulary.prompts import Key
from assistant.heat.degrees import in_scale
from assistant.sentences.prompting import short_of


def minutes(seconds: float) -> str:
    """A span in minutes, "45 s" where it is shorter than one and a half."""
    return f"{seconds:.0f} s" if abs(seconds) < 90 else f"{seconds / 60:.0f} min"


def span(seconds: float) -> str:
    """A span with hours: "1 h 32 min"."""
    whole = round(seconds / 60)
    return f"{whole} min" if whole < 60 else f"{whole // 60} h {whole % 60:02d} min"


def clock(at_s: float, cook: Cook) -> str:
    """A moment as the cook's clock showed it, "6:31"."""
    return clock_text(at_s, cook.zone)


def degrees(temperature_f: float, cook: Cook) -> str:
    """A temperature in the cook's scale, "128 F"."""
    value = in_scale(temperature_f, cook.scale)
    return f"{value:.0f} {cook.scale}"


def prompt_words(*keys: str) -> str:
    """What prompts of one kind asked for, from their keys: "look:3:2" is "read bird 3"."""
    named = [Key.read(key) for key in keys]
    return short_of(named[0].kind, *(one.bird for one in named if one.bird is not None))


def event_words(event: ev.Event, cook: Cook) -> str:
    """An event in a few words."""
    match event:
        case ev.BirdRead(number, temperature, _, spot):
            where = f" {spot}" if spot else ""
            return f"bird {number}{where} reads {degrees(temperature, cook)}"
        case ev.GrillRead(temperature):
            return f"grill reads {degrees(temperature, cook)}"
        case ev.FuelPut(count, kind, vague=vague):
            return f"{'about ' if vague else ''}{count:g} {kind} added"
        case ev.BirdOn(number) | ev.BirdOff(number):
            return f"bird {number} {'on' if isinstance(event, ev.BirdOn) else 'off'}"
        case ev.BirdSauced(number):
            return f"bird {number} sauced"
        case ev.BirdWeighed(number, mass_kg):
            return f"bird {number} weighs {mass_kg:.2f} kg"
        case ev.SauceAssigned(number, sauce):
            return f"bird {number} gets {sauce}"
        case ev.ServeSet(serve_s):
            return f"dinner at {clock(serve_s, cook)}"
        case ev.PromptSaid(key):
            return f"called out: {prompt_words(key)}"
        case ev.WordsHeard(words, meaning=str() as meaning) if meaning != words:
            return f'heard "{words}", taken as "{meaning}"'
        case ev.WordsHeard(words):
            return f'heard "{words}"'
        case _:
            return _plain(event)


def _plain(event: ev.Event) -> str:
    """Any other event: its name and what in it is a word or a number but not a moment."""
    name, slots = event_json(event)
    kept = [
        f"{slot} {value:g}" if isinstance(value, float) else f"{slot} {value}"
        for slot, value in slots.items()
        if isinstance(value, str | int | float) and not slot.endswith("_s")
    ]
    return " ".join([name, *kept] if not isinstance(event, ev.CookBegan) else [name]).replace(
        "_", " "
    )
