"""Readings in doubt: facts from the moment they are asked back. Pure.

What was asked about is kept at the coldest it may have been. It holds back whatever it
could contradict; unanswered it stays, on the safe side, until that spot is read again.
"""

from collections.abc import Sequence
from dataclasses import replace

from assistant.cook.state import Cook, Reading
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev

SETTLED = frozenset({"settled", "number", "no"})  # answers; "expired" and "replaced" are none


def last_read(state: Cook) -> ev.Recorded | None:
    """The last reading, of a bird or the grill, that a correction is about."""
    readings = [one for one in state.recent if isinstance(one.event, ev.BirdRead | ev.GrillRead)]
    return readings[-1] if readings else None


def with_doubts(state: Cook, options: Sequence[cmd.Command], at_s: float, seq: int) -> Cook:
    """The state with each bird reading among `options` kept in doubt, under `seq`."""
    found: dict[tuple[int, cmd.Spot | None], float] = {}
    for option in options:
        meant = _meant(state, option)
        if meant is not None:
            key, f = (meant.bird, meant.spot), meant.temperature + state.correction_f
            found[key] = min(f, found.get(key, f))
    birds = tuple(
        replace(
            bird,
            doubted=(
                *bird.doubted,
                *(Reading(at_s, f, seq, spot) for (of, spot), f in found.items()
                  if of == bird.number),
            ),
        )
        for bird in state.birds
    )  # fmt: skip
    return replace(state, birds=birds)


def _meant(state: Cook, option: cmd.Command) -> cmd.BirdReading | None:
    """The bird reading that an option stands for; a correction stands for its target's."""
    if isinstance(option, cmd.BirdReading):
        return option
    last = last_read(state)
    if not isinstance(option, cmd.Correct) or last is None or option.said is None:
        return None
    if not isinstance(last.event, ev.BirdRead) or option.temperature is None:
        return None
    return cmd.BirdReading(last.event.bird, option.temperature, option.said, last.event.spot)


def without_doubts(state: Cook) -> Cook:
    """The state without what the open question kept in doubt."""
    seq = state.pending.seq if state.pending is not None else 0
    birds = tuple(
        replace(bird, doubted=tuple(one for one in bird.doubted if one.seq != seq))
        for bird in state.birds
    )
    return replace(state, birds=birds)


def without_reading(state: Cook, seq: int) -> Cook:
    """The state as it would be had that bird reading not been told."""
    birds = tuple(
        replace(bird, readings=tuple(one for one in bird.readings if one.seq != seq))
        for bird in state.birds
    )
    return replace(state, birds=birds)
