"""What is said of birds that are off, or would be left, below their mark or unread."""

from collections.abc import Sequence

from assistant.cook.clocktimes import clock_text
from assistant.cook.rules.finish import rested_s
from assistant.cook.rules.lifting import is_below, unread_spots
from assistant.cook.state import Bird, Cook
from assistant.sentences.phrasing import birds, capital, degrees, listed

_MANY = {"breast": "breasts", "thigh": "thighs", "wing": "wings"}


def not_read(some: Sequence[Bird]) -> str:
    """The spots nobody has read: "Thigh not read.", "Thighs not read."; "" if none."""
    spots = sorted({spot for bird in some for spot in unread_spots(bird)})
    names = [_MANY[spot] if len(some) > 1 else spot for spot in spots]
    return f"{capital(listed(names))} not read." if names else ""


def where_they_stand(some: Sequence[Bird], state: Cook) -> str:
    """ "bird 1 is at 154 and still on", "birds 2 and 3 are off, thigh not read"."""
    alike: dict[str, list[int]] = {}
    for bird in some:
        alike.setdefault(_stands(bird, state), []).append(bird.number)
    return listed(
        f"{birds(numbers)} {'is' if len(numbers) == 1 else 'are'} {stands}"
        for stands, numbers in alike.items()
    )


def _stands(bird: Bird, state: Cook) -> str:
    coldest_f, spots = bird.coldest_f(), unread_spots(bird)
    on = "still on" if bird.is_on else "off"
    if coldest_f is None:
        return f"not read and {on}"
    if is_below(bird):
        return f"at {degrees(coldest_f, state)} and {on}"
    return on + (f", {listed(spots)} not read" if spots else "")


def before_ending(some: Sequence[Bird], state: Cook) -> str:
    """The question before a cook ends too early: "Bird 1 is at 154 and still on. End?"."""
    return f"{capital(where_they_stand(some, state))}. End?"


def before_lifting(some: Sequence[Bird], state: Cook) -> str:
    """The question before a bird is off for good below its mark."""
    parts = []
    for bird in some:
        coldest_f = bird.coldest_f()
        stands = "not read" if coldest_f is None else f"at {degrees(coldest_f, state)}"
        parts.append(f"bird {bird.number} is {stands}")
    mark = degrees(max(bird.done_mark_f for bird in some), state)
    under = "" if all(bird.coldest_f() is None for bird in some) else f", under {mark}"
    return f"{capital(listed(parts))}{under}. Off for good?"


def none_left(state: Cook) -> str:
    """No bird is over the fire: none has been, or all are off, with what is left to do."""
    off = [bird for bird in state.birds if bird.has_been_on]
    if not off:
        return "No bird has gone on yet."
    return off_already(None, state)


def off_already(number: int | None, state: Cook) -> str:
    """That bird, or every one that has been on, is off, with what is left to do."""
    off = [bird for bird in state.birds if bird.has_been_on and number in {None, bird.number}]
    if all(is_below(bird) and not unread_spots(bird) for bird in off):
        return f"{capital(where_they_stand(off, state))}."
    are = "is" if len(off) == 1 else "are all"
    return f"{capital(birds(bird.number for bird in off))} {are} off. {_off_since(off, state)}"


def _off_since(off: Sequence[Bird], state: Cook) -> str:
    """What is unread or under its mark; else until when they rest."""
    unread = not_read([bird for bird in off if unread_spots(bird)])
    below = [bird for bird in off if is_below(bird) and not unread_spots(bird)]
    if below:
        return f"{capital(where_they_stand(below, state))}. {unread}".strip()
    if unread:
        return unread
    rested = max(rested_s(bird) for bird in off)
    word = "Resting till" if rested > state.at_s else "Rested at"
    return f"{word} {clock_text(rested, state.zone)}."
