"""How plausible a command is now, before anything was heard: for the recognisers. Pure."""

import math
from dataclasses import replace

from assistant.cook.rules.birds import bird_is_idle
from assistant.cook.rules.dinner import dinner_is_idle
from assistant.cook.rules.fire import fire_is_idle
from assistant.cook.rules.plausible import MEAT_HIGH_F, MEAT_LOW_F, bird_prior, grill_prior
from assistant.cook.rules.readiness import list_is_idle
from assistant.cook.rules.talk import talk_is_idle
from assistant.cook.state import MOST_BIRDS, Cook
from assistant.cook.vocabulary import commands as cmd


def log_prior(state: Cook, command: cmd.Command, now_s: float) -> float:
    """How plausible a command is now, as a log probability up to a constant.

    Readings follow the forecast of that bird or grill; commands that would change
    nothing now (a bird put on that is on, "yes" with no question) are rare, not
    impossible: the choice stays with the sound where it is clear.
    """
    if state.pending is not None:
        if isinstance(command, _ANSWERS) or command in state.pending.options:
            return _ANSWER
        return _BESIDE + log_prior(replace(state, pending=None), command, now_s)
    match command:
        case cmd.BirdReading():
            if not MEAT_LOW_F <= command.temperature <= MEAT_HIGH_F:
                return _RARE
            return _known_bird(state, command.bird) + bird_prior(state, command, now_s)
        case cmd.GrillReading():
            return grill_prior(state, command, now_s)
        case cmd.Yes() | cmd.Choose() | cmd.Number() | cmd.AwayFor():
            return _RARE
        case cmd.No():  # it also takes the last words back
            return _FLAT + _UNLIKELY
        case cmd.ItemDone() | cmd.ItemSkip() | cmd.ItemBack():
            return _FLAT if state.readiness is not None else _RARE
        case _:
            bird = getattr(command, "bird", None)
            known = _known_bird(state, bird) if isinstance(bird, int) else 0.0
            return _FLAT + known + (_UNLIKELY if _is_idle(state, command) else 0.0)


_ANSWERS = cmd.Yes | cmd.No | cmd.Choose | cmd.Number | cmd.AwayFor
_FLAT = math.log(1 / 60)  # a command without a number, among all of them
_RARE = math.log(1e-6)
_UNLIKELY = -4.0
_ANSWER = math.log(1 / 6)  # to an open question, answers are what comes
_BESIDE = math.log(1 / 4)  # anything else then


def _is_idle(state: Cook, command: cmd.Command) -> bool:
    """The command would change nothing now, or cannot be."""
    if isinstance(command, cmd.BirdCommand):
        return bird_is_idle(state, command)
    if isinstance(command, cmd.FireCommand):
        return fire_is_idle(state, command)
    if isinstance(command, cmd.DinnerCommand):
        return dinner_is_idle(state, command)
    if isinstance(command, cmd.ListCommand):
        return list_is_idle(command)
    if isinstance(command, cmd.TalkCommand):
        return talk_is_idle(state, command)
    return False  # a question


def _known_bird(state: Cook, number: int) -> float:
    """0 for one of tonight's birds, a penalty beyond them."""
    return 0.0 if number <= (state.tonight or MOST_BIRDS) else -5.0
