"""Lifting a bird off: for its sauce, or for good; and what may not be left unsaid. Pure.

Public guidance (USDA FSIS): 165 F in every part of poultry, read in the innermost thigh
and the thickest breast. A bird lifted off below its mark, or ended with, is asked about.
"""

from collections.abc import Sequence

from assistant.cook.rules.finish import spots_to_read
from assistant.cook.state import BOTH_SPOTS, Bird, Cook
from assistant.cook.vocabulary.commands import Spot, TroubleKind

LATE_F = 15.0  # common practice, no source: a sauce set at the mark has 15 F to go
TROUBLE_S = 900.0  # a bird with a loose wing or leg is lifted off to be tied, not for good
NO_LIFTING: tuple[TroubleKind, ...] = ("rain", "wind", "cold", "thermometer_doubted")


def unread_spots(bird: Bird) -> tuple[Spot, ...]:
    """Return the spots nobody read of a bird that has read its mark somewhere."""
    if bird.kind == "roast":
        return ()
    read = {one.spot for one in bird.readings}
    if not any(one.temperature_f >= bird.done_mark_f for one in bird.readings):
        return ()
    never = tuple(spot for spot in BOTH_SPOTS if spot not in read)
    return never or spots_to_read(bird)


def is_below(bird: Bird) -> bool:
    """Return whether the coldest of the last readings is below the done mark, or there
    is no reading at all."""
    coldest_f = bird.coldest_f()
    return coldest_f is None or coldest_f < bird.done_mark_f


def asks_before_lifting(state: Cook, bird: Bird, now_s: float) -> bool:
    """Return whether lifting this bird off looks like for good, below its mark.

    Until it has had its sauce it is lifted for that; a bird in trouble for its mending.
    """
    if not bird.readings or not is_below(bird) or _is_early(bird) or _waits_for_sauce(bird):
        return False
    if unread_spots(bird):  # named in the read-back, and asked for until it is read
        return False
    return not any(
        one.bird in {None, bird.number}
        and one.kind not in NO_LIFTING
        and one.ended_s is None
        and now_s - one.at_s < TROUBLE_S
        for one in state.troubles
    )


def is_asked_about(state: Cook, number: int | None) -> bool:
    """Return whether the open question is of a bird lifted off below its mark, and of this
    one (None: of any)."""
    pending = state.pending
    if pending is None or pending.why != "below_mark":
        return False
    return number is None or getattr(pending.options[0], "bird", None) in {None, number}


def _waits_for_sauce(bird: Bird) -> bool:
    """Until this near done a bird that is not plain is rather lifted for its sauce."""
    coldest_f = bird.coldest_f()
    late = coldest_f is not None and coldest_f >= bird.done_mark_f - LATE_F
    return not bird.is_plain and not bird.sauced_s and not late


def _is_early(bird: Bird) -> bool:
    """Nobody takes a bird off for good before its sauce mark."""
    coldest_f = bird.coldest_f()
    return coldest_f is not None and coldest_f < bird.sauce_mark_f


def not_finished(state: Cook) -> tuple[Bird, ...]:
    """Return the birds that ending the cook now would leave on the spit, below their
    mark, or with a spot unread."""
    return tuple(
        bird
        for bird in state.birds
        if bird.has_been_on and (bird.is_on or is_below(bird) or unread_spots(bird))
    )


def farther_out(state: Cook, numbers: Sequence[int]) -> tuple[int, ...]:
    """Return the birds that sit between these and the spit's free end and are not done at
    both spots:
    numbered from the motor, a bird leaves the spit only after those farther out."""
    inmost = min(numbers, default=0)
    return tuple(
        bird.number
        for bird in state.birds
        if bird.is_on and bird.number > inmost and bird.number not in numbers
        and (not bird.is_done or spots_to_read(bird))
    )  # fmt: skip
