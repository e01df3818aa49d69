"""What is told after it happened: its own time, within what is known. Pure."""

from collections.abc import Iterable
from dataclasses import replace

from assistant.cook.clocktimes import last_time
from assistant.cook.rules.decision import Decision, Record
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no

BEFORE_S = 3 * 3600.0  # coals may burn and birds turn for this long before a cook begins


def at_told_time(state: Cook, decision: Decision, command: cmd.Datable, now_s: float) -> Decision:
    """The decision with its events at the time the command tells.

    Refused where that is hours before the cook began, or before what it follows on: a
    bird comes off after it went on.
    """
    if command.when is None or not isinstance(decision, Record):
        return decision
    at_s = happened_s(state, command, now_s)
    refusal = cannot_be(state, decision.events, at_s, now_s)
    if refusal is not None:
        return refusal
    events = (replace(one, at_s=at_s) if isinstance(one, ev.Dated) else one
              for one in decision.events)  # fmt: skip
    return replace(decision, events=tuple(events))


def cannot_be(
    state: Cook, events: Iterable[ev.Event], at_s: float, now_s: float
) -> no.NotThen | None:
    """The refusal of events at a time that is not of this evening, or too early for them."""
    began_s = now_s if state.began_s is None else state.began_s
    if at_s < began_s - BEFORE_S:
        return no.NotThen()
    known_s = max((_follows_s(state, e) for e in events if isinstance(e, ev.Dated)), default=0.0)
    return no.NotThen(known_s) if at_s < known_s else None


def happened_s(state: Cook, command: cmd.Datable, now_s: float) -> float:
    """When the command says that it happened, epoch seconds; now where it does not say."""
    when = command.when
    if when is None:
        return now_s
    if when.ago is not None:
        return now_s - 60.0 * max(0.0, when.ago)
    return last_time(now_s, when.at or 0, state.zone, vague=when.vague)


def _follows_s(state: Cook, event: ev.Dated) -> float:
    """The latest thing known that must have come before; 0 where nothing had to."""
    if isinstance(event, ev.LidOpened | ev.LidClosed):
        spans = state.fire.lid_open
        return max(spans[-1].start_s, spans[-1].end_s or 0.0) if spans else 0.0
    if isinstance(event, ev.VentsSet):
        return state.fire.vents[-1].at_s if state.fire.vents else 0.0
    if isinstance(event, ev.TroubleEnded):
        since_s = [t.at_s for t in state.troubles if t.kind == event.kind and t.ended_s is None]
        return max(since_s, default=0.0)
    if isinstance(event, ev.GrillRead | ev.FuelPut | ev.WoodPut | ev.FireStarted | ev.TroubleNoted):
        return 0.0
    bird = state.bird(event.bird)
    if bird is None or not bird.on_heat:
        return 0.0
    if isinstance(event, ev.BirdOn):
        return max((one.end_s for one in bird.on_heat if one.end_s is not None), default=0.0)
    return bird.on_heat[-1].start_s if isinstance(event, ev.BirdOff) else bird.on_heat[0].start_s
