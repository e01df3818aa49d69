"""A command and the state decide what happens: events, a question, or a refusal. Pure."""

from dataclasses import replace
from math import inf

from assistant.cook.naming import claims
from assistant.cook.rules.away import ASKING, ASKING_S, settle_clock
from assistant.cook.rules.birds import beyond_tonight, decide_bird, off_for_now
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.dinner import decide_dinner
from assistant.cook.rules.fire import HOW_MANY, decide_fire, settle_count
from assistant.cook.rules.lifting import is_asked_about
from assistant.cook.rules.plausible import with_number
from assistant.cook.rules.questions import answer
from assistant.cook.rules.readiness import decide_list
from assistant.cook.rules.talk import correct, decide_talk
from assistant.cook.state import Cook, Pending
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no

PENDING_S = 120.0  # an unanswered question is dropped after this
AGAIN_S = 60.0  # saying it again settles what is dangerous only this soon
GRAVE = frozenset({"end_raw", "below_mark"})  # only yes, or saying it again, settles these
PENDING_OF_S = {
    "end_raw": inf, "below_mark": inf,  # asked until answered
    "clock_behind": ASKING_S, "clock_ahead": ASKING_S,
}  # fmt: skip


def decide(state: Cook, command: cmd.Command, now_s: float) -> Decision:
    """What becomes of `command` at `now_s` (epoch seconds).

    A `Record` holds the events to commit; only then is it read back.
    """
    decision = _decided(state, command, now_s)
    return decision if state.pending is None else _asking_on(decision, state.pending)


def _asking_on(decision: Decision, pending: Pending) -> Decision:
    """What waits behind a question is asked once that is closed, however it was."""
    if not pending.later:
        return decision
    if isinstance(decision, AskBack):  # it comes first, for it is about what was said last
        return replace(decision, later=(*decision.later, *pending.later))
    if not isinstance(decision, Record) or not any(
        isinstance(one, ev.AskBackClosed) for one in decision.events
    ):
        return decision
    first, *rest = pending.later
    last = decision.events[-1]
    if isinstance(last, ev.AskedBack):  # it asks by itself
        asks = replace(last, later=pending.later)
        return replace(decision, events=(*decision.events[:-1], asks))
    asks = ev.AskedBack(first.options, first.why, None, tuple(rest) or None)
    return replace(decision, events=(*decision.events, asks))


def _decided(state: Cook, command: cmd.Command, now_s: float) -> Decision:
    pending = state.pending
    if pending is None:
        return _fresh(state, command, now_s)
    if now_s - pending.asked_s > PENDING_OF_S.get(pending.why, PENDING_S):
        return _closing(_fresh(replace(state, pending=None), command, now_s), "expired")
    settled = _settle(state, command, now_s)
    if settled is not None:
        return settled
    if pending.why in ASKING:  # a cook that goes on all the same may still answer
        return _fresh(replace(state, pending=None), command, now_s)
    if _leaves_questions(command):
        return _fresh(state, command, now_s)
    return _unanswered(state, _fresh(replace(state, pending=None), command, now_s), "replaced")


def _unanswered(state: Cook, decision: Decision, answer_: str) -> Decision:
    """The decision, with the open question closed as one that got no answer. A bird asked
    about as it was lifted is off the heat all the same, for now, from when that was told."""
    closed = _closing(decision, answer_)
    if not isinstance(closed, Record) or not is_asked_about(state, None):
        return closed
    told = {one.bird for one in closed.events if isinstance(one, ev.BirdOff | ev.BirdOn)}
    off = [one for one in _off_since(state) if one.bird not in told]
    first, *rest = closed.events
    return replace(closed, events=(first, *off, *rest))


def _off_since(state: Cook) -> list[ev.BirdOff]:
    """The birds asked about as off the heat since the question, not for good."""
    assert state.pending is not None
    option = state.pending.options[0]
    assert isinstance(option, cmd.BirdsOff | cmd.Rest)
    off = off_for_now(state, option).events
    at_s = state.pending.asked_s
    return [replace(one, at_s=at_s) for one in off if isinstance(one, ev.BirdOff)]


def _put_back(state: Cook, command: cmd.BirdsOn) -> Decision:
    """It went back on before it was said whether it was off for good."""
    off = _off_since(state)
    on = [ev.BirdOn(one.bird) for one in off if command.bird in {None, one.bird}]
    return _closing(Record((*off, *on), command), "no")


def _leaves_questions(command: cmd.Command) -> bool:
    """Whether an open question stays open beside this command: it changes no fact."""
    if isinstance(command, cmd.Question):
        return True
    if not isinstance(command, cmd.TalkCommand):
        return False
    match command:
        case cmd.Repeat() | cmd.Hush() | cmd.Quieter() | cmd.Louder():
            return True
        case (
            cmd.Acknowledge() | cmd.ItemDone() | cmd.Snooze() | cmd.Correct() | cmd.Undo()
            | cmd.Yes() | cmd.No() | cmd.Choose() | cmd.Number() | cmd.AwayFor()
            | cmd.StartCook() | cmd.EndCook() | cmd.Sleep() | cmd.Wake()
        ):  # fmt: skip
            return False


def _closing(decision: Decision, answer_: str) -> Decision:
    """The decision, with the open question closed first where it records."""
    if isinstance(decision, Record):
        return replace(decision, events=(ev.AskBackClosed(answer_), *decision.events))
    return decision


def _settle(state: Cook, command: cmd.Command, now_s: float) -> Decision | None:
    """The answer to the open question, or None if `command` is none."""
    pending = state.pending
    assert pending is not None
    options = pending.options
    if pending.why in ASKING:
        return settle_clock(pending, command)
    if pending.why == HOW_MANY:
        counted = settle_count(state, command)
        return None if counted is None else _closing(counted, "number")
    match command:
        case cmd.Yes() if len(options) == 1:
            return _insist(state, options[0], now_s)
        case cmd.Yes():
            return ans.WhichOne(options)
        case cmd.No():
            return _denied(state, command)
        case cmd.Choose(place) if place <= len(options):
            return _insist(state, options[place - 1], now_s)
        case cmd.Choose():
            return ans.WhichOne(options)
        case cmd.Number() | cmd.Correct(temperature=float()):
            return _numbered(state, command, now_s)
        case cmd.Undo() if pending.why in GRAVE:
            return Record((ev.AskBackClosed("no"),), cmd.No(), notes=("dropped",))
        case cmd.Acknowledge() | cmd.ItemDone() if pending.why in GRAVE:
            return ans.WhichOne(options)  # said of anything, it settles nothing grave
        case cmd.Correct(None, bird=int() as bird) if is_asked_about(
            state, None
        ):  # "sorry, bird two"
            option = pending.options[0]
            assert isinstance(option, cmd.BirdsOff | cmd.Rest)
            meant = replace(option, bird=bird)
            return _closing(_fresh(replace(state, pending=None), meant, now_s), "no")
        case cmd.BirdsOn(bird) if is_asked_about(state, bird):
            return _put_back(state, command)
        case cmd.EndCook() | cmd.BirdsOff() | cmd.Rest() if (
            pending.why in GRAVE and now_s - pending.asked_s > AGAIN_S
        ):
            return None
        case _ if command in options:
            return _insist(state, command, now_s)
        case _:
            return None


def _denied(state: Cook, command: cmd.No) -> Decision:
    """No: nothing is noted; a bird that is not off for good is off for now."""
    pending = state.pending
    assert pending is not None
    option = pending.options[0]
    if pending.why == "below_mark" and isinstance(option, cmd.BirdsOff | cmd.Rest):
        return _closing(off_for_now(state, option), "no")
    return Record((ev.AskBackClosed("no"),), command, notes=("dropped",))


def _numbered(state: Cook, command: cmd.Number | cmd.Correct, now_s: float) -> Decision | None:
    """A bare number settles a question between readings."""
    pending = state.pending
    assert pending is not None
    said = command.said
    readings = [
        one
        for one in pending.options
        if isinstance(one, cmd.BirdReading | cmd.GrillReading | cmd.Correct)
    ]
    if not readings or said is None:
        return None
    for option in readings:
        if option.said is not None and option.said.number == said.number:
            return _insist(state, option, now_s)
    first = readings[0]
    if isinstance(first, cmd.BirdReading):
        meant: cmd.Command = with_number(first, said.number)
    else:
        meant = replace(first, temperature=command.temperature or 0.0, said=said)
    decision = _fresh(replace(state, pending=None), meant, now_s)
    return _closing(decision, "number")


def _insist(state: Cook, option: cmd.Command, now_s: float) -> Decision:
    """Record what was asked about, without asking again; "five minutes ago" counts from
    when it was said."""
    free = replace(state, pending=None)
    if state.pending is not None and isinstance(option, cmd.Datable) and option.when is not None:
        now_s = state.pending.asked_s
    decision: Decision
    if isinstance(option, cmd.BirdReading | cmd.BirdWeight | cmd.BirdsOff | cmd.Rest):
        decision = decide_bird(free, option, now_s, confirmed=True)
        if is_asked_about(state, None) and isinstance(decision, Record):
            decision = _since_asked(decision, state, now_s)
    elif isinstance(option, cmd.GrillReading):
        decision = decide_fire(free, option, now_s, confirmed=True)
    elif isinstance(option, cmd.Correct):
        decision = correct(free, option, confirmed=True)
    elif isinstance(option, cmd.EndCook):
        decision = Record((ev.CookEnded(),), option)
    else:
        decision = _fresh(free, option, now_s)
    return _closing(decision, "settled")


def _since_asked(record: Record, state: Cook, now_s: float) -> Record:
    """A bird whose lifting was answered late is off since it was told."""
    assert state.pending is not None
    at_s = state.pending.asked_s
    if now_s - at_s <= AGAIN_S:
        return record
    dated = (
        replace(one, at_s=at_s) if isinstance(one, ev.BirdOff) and one.at_s is None else one
        for one in record.events
    )
    return replace(record, events=tuple(dated))


def _fresh(state: Cook, command: cmd.Command, now_s: float) -> Decision:
    if isinstance(command, cmd.BirdSauce | cmd.TimerSet) and claims(_name(command)):
        return no.ClaimingName()
    beyond = beyond_tonight(state, command)
    if beyond is not None:
        return beyond
    if isinstance(command, cmd.BirdCommand):
        return decide_bird(state, command, now_s)
    if isinstance(command, cmd.FireCommand):
        return decide_fire(state, command, now_s)
    if isinstance(command, cmd.DinnerCommand):
        return decide_dinner(state, command, now_s)
    if isinstance(command, cmd.ListCommand):
        return decide_list(state, command)
    if isinstance(command, cmd.Question):
        return answer(state, command, now_s)
    return decide_talk(state, command, now_s)


def _name(command: cmd.BirdSauce | cmd.TimerSet) -> str:
    return command.sauce if isinstance(command, cmd.BirdSauce) else command.name or ""
