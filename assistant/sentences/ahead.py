"""The one useful number after a reading: when its bird wants hands next."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.due_birds import sauce_due_s
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.rules.waiting import next_mark, sauce_is_due
from assistant.cook.state import Bird, Cook
from assistant.heat.bird.evidence import BirdForecast
from assistant.sentences.phrasing import capital, span

SURE_S = 40 * 60.0  # a wider 80 % interval says too little to be worth hearing
SOON_S = 20 * 60.0


def ahead(bird: Bird, state: Cook) -> str:
    """ "Sauce about 6:38.", "About 10 minutes."; "" where the forecast is not sure enough
    or the time has come."""
    forecast = forecast_of(state)
    told = [one for one in forecast.birds if one.number == bird.number] if forecast else []
    if not told or not bird.is_on:
        return ""
    return _held(bird, state) if sauce_is_due(bird) else _mark(bird, told[0], state)


def held_for_sugar(bird: Bird, state: Cook) -> str:
    """Why a sweet sauce waits past its mark, and till when: "Apricot waits: its sugar
    burns. About 6:50."; "" where none does."""
    if not (bird.is_on and sauce_is_due(bird) and bird.sugar == "high"):
        return ""
    due_s = sauce_due_s(state, bird.number)
    if due_s is None or due_s - state.at_s < 60.0:
        return ""
    at = clock_text(due_s, state.zone)
    return f"{capital(bird.sauce or 'sauce')} waits: its sugar burns. About {at}."


def _held(bird: Bird, state: Cook) -> str:
    """A sauce that waits past its mark: for its sugar, or for another's stop."""
    due_s = sauce_due_s(state, bird.number)
    if due_s is None or due_s - state.at_s < 60.0:
        return ""
    if bird.sugar == "high":
        return held_for_sugar(bird, state)
    return f"Sauce about {clock_text(due_s, state.zone)}: one stop for all."


def _mark(bird: Bird, forecast: BirdForecast, state: Cook) -> str:
    mark = next_mark(bird)
    if mark == "sauce" and (bird.sauce is None or bird.is_done):
        mark = "done"
    times = forecast.sauce if mark == "sauce" else forecast.done
    if times.q10 is None or times.q50 is None or times.q90 is None:
        return ""
    if times.q90 - times.q10 > SURE_S or times.q50 - state.at_s < 60.0:
        return ""
    name = "Sauce" if mark == "sauce" else "Done"
    if mark == "done" and times.q50 - state.at_s <= SOON_S:
        return f"About {span(times.q50 - state.at_s)}."
    return f"{name} about {clock_text(times.q50, state.zone)}."
