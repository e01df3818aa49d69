"""Stops of the spit: lifted out for sauce, each bird its own; or for good, the far end first."""

from collections.abc import Sequence

from assistant.cook.rules.finish import spots_to_read
from assistant.cook.rules.forecasts import forecast_of
from assistant.cook.rules.joint_stop import joins_stop
from assistant.cook.rules.lifting import farther_out
from assistant.cook.rules.sauces import brush_order
from assistant.cook.state import Bird, Cook
from assistant.sentences.ahead import held_for_sugar
from assistant.sentences.phrasing import birds, capital, degrees, listed, place, placed, span

JUST_READ_S = 600.0


def take_off(known: list[Bird], state: Cook) -> str:
    """Those that have read the mark at both spots come off; of the others, what to read."""
    read = [bird for bird in known if not spots_to_read(bird)]
    outside = farther_out(state, [bird.number for bird in read]) if read else ()
    texts = [_off_now(read, outside, state)] if read else []
    left = [bird for bird in known if bird not in read and bird.number not in outside]
    if left:
        missing = sorted({spot for bird in left for spot in spots_to_read(bird)})
        first = f"{_at_the_mark(left, state)} at one spot"
        texts.append(f"{first}. Read the {listed(missing)}, then off.")
    return " ".join(texts)


def _at_the_mark(some: list[Bird], state: Cook) -> str:
    mark = degrees(max(bird.done_mark_f for bird in some), state)
    numbers = [bird.number for bird in some]
    if len(some) == 1:
        return f"{capital(birds(numbers))}, {place(numbers[0], state)}, reads {mark} or more"
    return f"{capital(birds(numbers))} read {mark} or more"


def _off_now(some: list[Bird], outside: tuple[int, ...], state: Cook) -> str:
    first = f"{_at_the_mark(some, state)} at both spots"
    if not outside:
        return f"{first}. Gloves on, take {'it' if len(some) == 1 else 'them'} off."
    left_s = _left_s(outside, state)
    if left_s is not None:
        need = "needs" if len(outside) == 1 else "need"
        return (
            f"{first}, behind {birds(outside)}, which {need} about {span(left_s)}."
            " All off together then; or gloves on, lift the spit out."
        )
    return (
        f"{first}, behind {birds(outside)}."
        f" Gloves on, lift the spit out; or read {birds(outside)}, then all off together."
    )


def _left_s(numbers: tuple[int, ...], state: Cook) -> float | None:
    """How long the slowest of these birds takes by the forecast, where all of them have just
    been read; else None."""
    forecast = forecast_of(state)
    told = {one.number: one.done.q50 for one in forecast.birds} if forecast is not None else {}
    left = [0.0]
    for number in numbers:
        bird, done_s = state.bird(number), told.get(number)
        if bird is None or not bird.readings or done_s is None:
            return None
        if state.at_s - bird.readings[-1].at_s > JUST_READ_S:
            return None
        left.append(done_s - state.at_s)
    return max(left) if max(left) >= 60.0 else None


def behind(bird: Bird, state: Cook) -> str:
    """Of a bird that has read its mark: which others it cannot leave the spit before."""
    outside = farther_out(state, (bird.number,))
    return f"Done, but behind {birds(outside)} on the spit." if outside else ""


def still_on(numbers: Sequence[int], state: Cook) -> str:
    """Of birds just lifted off: those farther out had to come off first, and are counted as
    back on unless told."""
    outside = [bird.number for bird in state.birds if bird.is_on and bird.number > min(numbers)]
    if not outside:
        return ""
    return f" {capital(birds(outside))} {'counts' if len(outside) == 1 else 'count'} as still on."


def sauce(known: list[Bird], state: Cook) -> str:
    """The stop for sauce, each bird with its own, and what waits for a later one."""
    others = (held_for_sugar(bird, state) for bird in state.birds if bird not in known)
    held = "".join(f" {text}" for text in others if text)
    held += _joining(known, state)
    if len(known) == 1:
        return f"Sauce now: {placed(known[0], state)}.{held}"
    return f"One stop: {_each_its_own(known)}{held}"


def last_call(known: list[Bird], state: Cook) -> str:
    """The last stop in which these sauces would still set."""
    if len(known) == 1:
        return f"Last call for sauce: {placed(known[0], state)}."
    return f"Last call for sauce, one stop: {_each_its_own(known)}"


def _each_its_own(known: list[Bird]) -> str:
    alike: dict[str, list[int]] = {}
    for bird in brush_order(known):
        alike.setdefault(bird.sauce or "", []).append(bird.number)
    pairs = [f"{birds(numbers)} {sauce}".strip() for sauce, numbers in alike.items()]
    return f"lift the spit out, sauce {', then '.join(pairs)}, back on."


def _joining(known: list[Bird], state: Cook) -> str:
    """The birds to be read before the spit is lifted out, for it may do for them too."""
    joins = joins_stop(state, [bird.number for bird in known])
    if not joins:
        return ""
    both = "both" if len(known) + len(joins) == 2 else "all"
    return f" Read {birds(joins)} first: one stop may do {both}."
