"""Which other birds may share a stop for sauce that is called now. Pure."""

from collections.abc import Sequence

from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.rules.sauces import window
from assistant.cook.rules.waiting import is_at_sauce_mark, needs_no_sauce
from assistant.cook.state import Cook

SOON_S = 10 * 60.0  # a sauce waits this long for another's stop


def joins_stop(state: Cook, called: Sequence[int]) -> tuple[int, ...]:
    """Return the birds whose sauce could go on at the stop that is `called` for others: a
    reading would tell, for by the forecast they are at their mark, or will be in minutes."""
    forecast = forecast_of(state)
    if forecast is None or not called:
        return ()
    told = {one.number: one for one in forecast.birds}
    found = []
    for bird in state.birds:
        one = told.get(bird.number)
        if one is None or bird.number in called or not bird.is_on or bird.sauce is None:
            continue
        if needs_no_sauce(bird) or is_at_sauce_mark(bird):
            continue
        age_s = state.at_s - bird.readings[-1].at_s if bird.readings else SOON_S
        opens = window(bird, one, state.at_s)
        # One read a moment ago, and not there by then, has nothing new to tell.
        if opens is not None and opens.opens_s <= state.at_s + min(SOON_S, age_s):
            found.append(bird.number)
    return tuple(found)
