"""Leftovers: one sentence, wherever they are spoken of."""

from assistant.cook.clocktimes import clock_text
from assistant.cook.guidance import chill_limit_s
from assistant.cook.rules.finish import chill_by_s, left_to_cool
from assistant.cook.state import Cook
from assistant.sentences.phrasing import birds, span


def leftovers(state: Cook) -> str:
    """Until when, and since what: "Leftovers into the cold by 9:11, 2 hours after bird 1
    came off."; "" while no bird is off for the table."""
    by_s = chill_by_s(state)
    if by_s is None:
        return ""
    off = left_to_cool(state)
    limit = span(chill_limit_s(state.outside_f))
    if not off:
        return f"Leftovers into the cold by {clock_text(by_s, state.zone)}, {limit} after dinner."
    first_s = min(off.values())
    first = [number for number, off_s in off.items() if off_s - first_s < 60.0]
    came = f"{limit} after {birds(first)} came off"
    return f"Leftovers into the cold by {clock_text(by_s, state.zone)}, {came}."


def leftovers_when(state: Cook) -> str:
    """The answer to when the leftovers go into the cold; before a bird is off, the rule."""
    limit = span(chill_limit_s(state.outside_f))
    return leftovers(state) or f"Leftovers into the cold within {limit} of a bird coming off."
