"""Answers, in one breath, with their spread in plain words."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.due_fire import suggested
from assistant.cook.rules.forecasts import fire_of
from assistant.cook.rules.waiting import sauce_is_due
from assistant.cook.state import Cook
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.heat.bird.evidence import BirdForecast
from assistant.heat.degrees import fahrenheit
from assistant.heat.fire.forecast import FireForecast
from assistant.sentences.ahead import held_for_sugar
from assistant.sentences.asking import which_one
from assistant.sentences.describe import bird_spot
from assistant.sentences.fire_words import fire_word
from assistant.sentences.helping import help_text
from assistant.sentences.leftovers import leftovers_when
from assistant.sentences.lifting import none_left, off_already
from assistant.sentences.phrasing import about, birds, capital, degrees, listed, span
from assistant.sentences.readying import item_sentence
from assistant.sentences.reasons import why_prompt
from assistant.sentences.spell import Sentence, sentence
from assistant.sentences.status import SOON_S, ago, coming, in_band, status
from assistant.sentences.when import planned, when

Spoken = (
    ans.WhichOne
    | ans.Already
    | ans.AllOff
    | ans.NothingOpen
    | ans.NothingAsked
    | ans.NoList
    | ans.Next
    | ans.Status
    | ans.Elapsed
    | ans.LastReading
    | ans.FireStands
    | ans.Sauces
    | ans.BirdsLeft
    | ans.WhyPrompt
    | ans.WhySpread
    | ans.WordsBack
    | ans.Help
    | ans.ListItem
    | ans.When
    | ans.Planned
    | ans.WhatIf
    | ans.TimeOfDay
    | ans.Leftovers
)  # fmt: skip -- every answer with a sentence of its own


def answer(told: Spoken, state: Cook) -> Sentence:
    """The sentence for an answer."""
    return sentence(_text(told, state))


def _text(told: Spoken, state: Cook) -> str:
    match told:
        case ans.NothingOpen():
            return "Nothing is waiting for an answer."
        case ans.NothingAsked():
            return "I asked nothing."
        case ans.TimeOfDay(now_s):
            return f"It is {clock_text(now_s, state.zone)}."
        case ans.Leftovers():
            return leftovers_when(state)
        case ans.NoList():
            return "No list is open. Say: read the list."
        case ans.WhichOne(options):
            return which_one(options, state)
        case ans.Already(command):
            return _already(command, state)
        case ans.AllOff():
            return f"{none_left(state)} To put one back, say its number."
        case ans.Next():
            return coming(told, state)
        case ans.Status(then):
            return status(then, state)
        case ans.Elapsed(since, seconds):
            first = "the first bird went on" if since == "birds_on" else "we began. No bird on yet"
            return f"{capital(span(seconds))} since {first}."
        case ans.LastReading():
            return _last(told, state)
        case ans.FireStands():
            return _fire(told, state)
        case ans.Sauces(some):
            texts = (f"bird {bird.number} {bird.sauce or 'none named yet'}" for bird in some)
            return f"{capital(listed(texts))}."
        case ans.BirdsLeft(numbers):
            return _left(numbers, state)
        case ans.WhyPrompt(kind):
            return why_prompt(kind, state)
        case ans.WordsBack(words):
            return f"I heard: {words}." if words else "I heard nothing yet."
        case ans.Help():
            return help_text(state)
        case ans.ListItem():
            return item_sentence(told, state)
        case ans.When() | ans.Planned() | ans.WhySpread() | ans.WhatIf():
            return _foreseen(told, state)


def _foreseen(told: ans.When | ans.Planned | ans.WhySpread | ans.WhatIf, state: Cook) -> str:
    match told:
        case ans.When(rows, everyone):
            return when(rows, state, everyone=everyone)
        case ans.Planned(timetable):
            return planned(timetable, state)
        case ans.WhySpread(spreads):
            return _why(spreads, state)
        case ans.WhatIf():
            return _what_if(told, state)


def _already(
    command: cmd.LidOff | cmd.LidOn | cmd.BirdsOn | cmd.Rest | cmd.StartCook, state: Cook
) -> str:
    match command:
        case cmd.LidOff():
            return "The lid is off already."
        case cmd.LidOn():
            return "The lid is on already."
        case cmd.BirdsOn(bird):
            return f"Bird {bird} is on already." if bird else "All birds are on already."
        case cmd.Rest(bird):
            return off_already(bird, state)
        case cmd.StartCook():
            return "We are cooking already."


def _last(told: ans.LastReading, state: Cook) -> str:
    reading = told.reading
    name = capital(bird_spot(told.bird, reading.spot))
    text = f"{name}, {degrees(reading.temperature_f, state)}, {ago(told.age_s)}"
    return f"{text}, still in doubt. Read it again." if told.doubted else f"{text}."


def _fire(told: ans.FireStands, state: Cook) -> str:
    now_s, reading = told.now_s, told.reading
    if reading is None:
        parts = ["No grill reading yet."]
    else:
        shown = degrees(reading.temperature_f, state)
        parts = [f"Grill {shown}, {ago(now_s - reading.at_s)}, {in_band(reading, state)}."]
    if told.fed_s is not None:
        parts.append(f"Last fed {ago(now_s - told.fed_s)}.")
    forecast = fire_of(state, now_s)
    return " ".join([*parts, *_fire_ahead(forecast, state, now_s)])


def _fire_ahead(forecast: FireForecast | None, state: Cook, now_s: float) -> list[str]:
    """What to do about it: a vent, or charcoal; else how long it holds."""
    if forecast is None:
        return []
    shown = suggested(state, now_s) if state.cooking else None
    if shown is not None and shown.action != "ask":
        return [fire_word(shown, now_s)]
    settles_s = forecast.settles.q50
    if settles_s is not None and settles_s - now_s > SOON_S:
        return [f"In its band {about(forecast.settles, state.zone)}."]
    last = state.fire.readings[-1].temperature_f if state.fire.readings else None
    if last is not None and not state.fire.band_low_f <= last <= state.fire.band_high_f:
        return []  # it has left already
    if forecast.leaves.q50 is None:
        return ["It should hold."]
    return [f"It leaves the band {about(forecast.leaves, state.zone)}."]


def _left(numbers: tuple[int, ...], state: Cook) -> str:
    if not numbers:
        return none_left(state)
    if numbers == tuple(sorted(numbers)):
        return f"{len(numbers)} left: {birds(numbers)}."
    return f"{len(numbers)} left, off in this order: {listed(numbers)}."


_SPREADS = {
    "grill": "how hot the grill runs. A grill reading would narrow it",
    "surface": "how fast the heat gets in. A reading of the bird would narrow it",
    "start": "how cold it went on. A reading of the bird would narrow it",
    "probe": "where the probe sits. Read the same spot again",
}


def _why(rows: tuple[BirdForecast, ...], state: Cook) -> str:
    """Why a sauce waits, if one does; else where each bird may be now, and what would narrow
    the first one's spread most."""
    asked = [bird for row in rows if (bird := state.bird(row.number)) is not None]
    held = [text for bird in asked if (text := held_for_sugar(bird, state))]
    if held:
        return " ".join(held)
    due = [bird.number for bird in asked if bird.is_on and sauce_is_due(bird)]
    if due:
        return f"Nothing holds it: sauce {birds(due)} now."
    spans = [f"bird {row.number} somewhere from {_now_between(row, state)}" for row in rows]
    doubt = f" Most of the doubt is {_cause(rows[0], state)}." if rows[0].spread_from else ""
    return f"{capital(listed(spans))}.{doubt}"


def _now_between(row: BirdForecast, state: Cook) -> str:
    low_c, _, high_c = row.core_now_c
    low, high = (degrees(round(fahrenheit(one)), state) for one in (low_c, high_c))
    return f"{low} to {high}"


def _cause(row: BirdForecast, state: Cook) -> str:
    cause = row.spread_from[0][0]
    if cause != "size":
        return _SPREADS.get(cause, cause)
    bird = state.bird(row.number)
    weighed = bird is not None and bird.mass_kg is not None
    return "its shape. A reading would narrow it" if weighed else "its weight. Tell me"


def _what_if(told: ans.WhatIf, state: Cook) -> str:
    temperature_f = told.temperature_f
    given = (
        "Sauce now"
        if temperature_f is None
        else f"With the grill at {degrees(temperature_f, state)}"
    )
    changes = [f"bird {row.bird} {_later(row.later_s)}" for row in told.rows]
    return f"{given}: {listed(changes)}." if changes else none_left(state)


def _later(later_s: float | None) -> str:
    if later_s is None:
        return "can't be told"
    if abs(later_s) < 60:
        return "no different"
    return f"{span(abs(later_s))} {'later' if later_s > 0 else 'sooner'}"
