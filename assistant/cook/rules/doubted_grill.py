"""The grill's number, doubted where no fire could have got there since. Pure.

A kettle's dial moves slowly: with the vents it takes 10 to 20 minutes to answer, an open
lid drops it at once. The limits are common practice, no source.
"""

from dataclasses import replace

from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.heat.degrees import from_scale

STEP_F = 60.0  # a dial and a glance at it differ by this much within a minute
DRIFT_F_PER_MIN = 5.0  # faster only with the lid off
OPEN_F = 250.0  # an open lid or a flare-up can do this at once
LID_S = 600.0
COLD_F, HOT_F = 200.0, 500.0  # with a bird over a fire that has been in its band
LIKELY_F = (250.0, 450.0)


def is_doubtful(state: Cook, command: cmd.GrillReading, now_s: float) -> bool:
    """Return whether this number is far from what the fire could do since the last one."""
    last = state.fire.readings[-1] if state.fire.readings else None
    value_f = command.temperature
    if last is None:
        return any(bird.is_on for bird in state.birds) and not _is_sensible(value_f)
    minutes = max(0.0, now_s - last.at_s) / 60.0
    may_move_f = STEP_F + DRIFT_F_PER_MIN * minutes
    if _was_disturbed(state, now_s):
        may_move_f = max(may_move_f, OPEN_F)
    if abs(value_f - last.temperature_f) > may_move_f:
        return True
    return bool(state.cooking) and last.temperature_f >= LIKELY_F[0] and not _is_sensible(value_f)


def likelier(state: Cook, command: cmd.GrillReading, now_s: float) -> tuple[cmd.GrillReading, ...]:
    """Return what was more likely meant, at most one: a lost nought ("37" for 370), a
    teen for a ten, or one figure of the three."""
    number = command.said.number
    found = []
    for other in _misheard(number):
        in_f = from_scale(other, command.said.scale)
        meant = replace(command, temperature=in_f, said=replace(command.said, number=other))
        if LIKELY_F[0] <= in_f <= LIKELY_F[1] and not is_doubtful(state, meant, now_s):
            found.append(meant)
    last_f = state.fire.readings[-1].temperature_f if state.fire.readings else 350.0
    return tuple(sorted(found, key=lambda one: abs(one.temperature - last_f))[:1])


def _misheard(number: float) -> tuple[float, ...]:
    hundreds, rest = divmod(number, 100.0)
    others = [10.0 * number] if number < 100.0 else []
    return (*others, *(100.0 * other + rest for other in range(2, 5) if other != hundreds))


def _is_sensible(value_f: float) -> bool:
    return COLD_F <= value_f <= HOT_F


def _was_disturbed(state: Cook, now_s: float) -> bool:
    """The lid was off, or fat burned, within ten minutes."""
    lid = state.fire.lid_open[-1:] if state.fire.lid_open else ()
    open_s = [now_s if span.end_s is None else span.end_s for span in lid]
    open_s += [one.ended_s or one.at_s for one in state.troubles if one.kind == "flare_up"]
    return any(now_s - at_s < LID_S for at_s in open_s)
