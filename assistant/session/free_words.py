"""Free words in a live cook: what they are understood against, and what is heard in them."""

from dataclasses import replace
from typing import get_args

from assistant.cook.state import MOST_BIRDS, Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.ears.heard import Heard, Outcome
from assistant.grammar.free.context import Context, Understood
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import ADDRESS, strip_address

_COMMANDS = get_args(cmd.Command)
_USUAL_BIRDS = 2
COLD_F = 45.0  # a raw bird out of the refrigerator; common practice, no source


def context_of(state: Cook) -> Context:
    """The evening as words need it: what the cook's journal tells."""
    known = max([state.expected_birds or 0, *(bird.number for bird in state.birds)])
    names = dict.fromkeys([*(name for name, _ in state.sauces), *_sauces(state).values()])
    spoken, spot = _spoken(state)
    return Context(
        birds=known or _USUAL_BIRDS,
        sauces=_sauces(state),
        names=tuple(name for name in names if name != "plain"),
        weights_kg={one.number: one.mass_kg for one in state.birds if one.mass_kg is not None},
        scale=state.scale,
        motor_side=state.motor_side,
        spoken=spoken,
        spot=spot,
        last_f=_last_f(state, known or _USUAL_BIRDS),
        most=state.expected_birds or MOST_BIRDS,
        asked=state.pending.options if state.pending is not None else (),
        later=tuple(one.options for one in state.pending.later)
        if state.pending is not None
        else (),
    )


def _last_f(state: Cook, known: int) -> dict[int, float]:
    """The last reading of each bird; one not yet read in this evening began cold."""
    read = {one.number: one.readings[-1].temperature_f for one in state.birds if one.readings}
    return dict.fromkeys(range(1, known + 1), COLD_F) | read


def _sauces(state: Cook) -> dict[int, str]:
    return {bird.number: bird.sauce for bird in state.birds if bird.sauce is not None}


def _spoken(state: Cook) -> tuple[int | None, cmd.Spot | None]:
    """The bird that the last fact was about, and where it was read."""
    for entry in reversed(state.recent):
        bird = getattr(entry.event, "bird", None)
        if isinstance(bird, int):
            return bird, getattr(entry.event, "spot", None)
    return None, None


def heard_free(words: str, shown: str, state: Cook) -> Heard:
    """What is heard in words of the cook's own: facts to record, a question, or help."""
    return _heard(understand(words, context_of(state)), Heard(shown, None, 1.0, "accept"))


def heard_by_ear(heard: Heard, state: Cook, address: str = ADDRESS) -> Heard:
    """What the ears believe, taken as the same words typed would be."""
    understood = heard.understood
    if understood is None:
        return heard
    if isinstance(heard.command, cmd.Number) and is_reading(state):
        body = strip_address(heard.words, address)
        understood = understand(heard.words if body is None else body, context_of(state))
    taken: Outcome = "stress" if heard.outcome == "stress" else "accept"
    bare = replace(heard, command=None, outcome=taken, alternatives=(), more=())
    return _heard(understood, bare)


def is_reading(state: Cook) -> bool:
    """Whether a bare number is a reading of a bird not named: nothing else asked for one."""
    waits = state.pending is not None or state.readiness is not None
    return not waits and any(bird.is_on for bird in state.birds)


def _heard(understood: Understood, heard: Heard) -> Heard:
    """What `heard` comes to: commands to record, a question, help."""
    commands = tuple(one for fact in understood.facts for one in _commands(fact))
    if understood.outcome == "refuse":
        return replace(heard, outcome="refuse", help=understood.help, reason=understood.help)
    if understood.outcome == "ask":
        return _asking(heard, understood, commands)
    if not commands:
        return replace(heard, outcome="refuse", reason=heard.help or "nothing to record")
    return replace(heard, command=commands[0], more=commands[1:])


def _asking(heard: Heard, understood: Understood, commands: tuple[cmd.Command, ...]) -> Heard:
    open_still = {*understood.options, *(one for some in understood.later for one in some)}
    clear = tuple(one for one in commands if one not in open_still)
    if not understood.options:
        if not clear:
            return replace(
                heard, outcome="refuse", help=understood.question, reason=understood.question
            )
        return replace(heard, command=clear[0], more=clear[1:], help=understood.question)
    return replace(
        heard, outcome="ask", alternatives=understood.options, later=understood.later,
        command=clear[0] if clear else None, more=clear[1:],
    )  # fmt: skip


def _commands(fact: Fact) -> tuple[cmd.Command, ...]:
    """The commands that make a fact of it; () where it has to be asked."""
    if isinstance(fact, _COMMANDS):
        return (fact,)
    return ()
