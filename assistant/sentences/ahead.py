"""The one useful number after a reading: when its bird wants hands next."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.rules.sauces import window
from assistant.cook.rules.waiting import next_mark, sauce_is_due
from assistant.cook.state import Bird, Cook
from assistant.heat.bird.evidence import BirdForecast
from assistant.sentences.phrasing import span

SURE_S = 40 * 60.0  # a wider 80 % interval says too little to be worth hearing
SOON_S = 20 * 60.0


def ahead(bird: Bird, state: Cook) -> str:
    """ "Sauce about 6:38.", "About 10 minutes."; "" where the forecast is not sure enough
    or the time has come."""
    forecast = forecast_of(state)
    told = [one for one in forecast.birds if one.number == bird.number] if forecast else []
    if not told or not bird.is_on:
        return ""
    return _held(bird, told[0], state) if sauce_is_due(bird) else _mark(bird, told[0], state)


def _held(bird: Bird, forecast: BirdForecast, state: Cook) -> str:
    """A sweet sauce that waits past its mark: why, and till when. Another is due now."""
    opens = window(bird, forecast, state.at_s)
    if bird.sugar != "high" or opens is None:
        return ""
    if opens.opens_s - state.at_s < 60.0:
        return ""
    return f"Sauce about {clock_text(opens.opens_s, state.zone)}; sugar burns before."


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
