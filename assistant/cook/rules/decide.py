"""A command and the state decide what happens: events, a question, or a refusal. Pure."""

from dataclasses import replace
from math import inf

from assistant.cook.clocktimes import next_time
from assistant.cook.naming import claims
from assistant.cook.rules.away import ASKING, ASKING_S, settle_clock
from assistant.cook.rules.birds import beyond_tonight, decide_bird, off_for_now
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.doubts import last_read, without_reading
from assistant.cook.rules.due import last_open
from assistant.cook.rules.lifting import not_finished
from assistant.cook.rules.plausible import with_number
from assistant.cook.rules.questions import answer
from assistant.cook.rules.readiness import decide_list, item_at, list_item
from assistant.cook.rules.trouble import effect_of
from assistant.cook.state import Cook
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no

PENDING_S = 120.0  # an unanswered question is dropped after this
AGAIN_S = 60.0  # saying it again settles what is dangerous only this soon
PENDING_OF_S = {
    "end_raw": inf, "below_mark": AGAIN_S,  # the first is asked until answered
    "clock_behind": ASKING_S, "clock_ahead": ASKING_S,
}  # fmt: skip
NO_S = 20.0  # "no" this soon after a read-back takes it back
SNOOZE_MIN = 5.0
TIMER_MAX_MIN = 24 * 60.0
MOST_TIMERS = 20  # running at once: no cook follows more
FUEL_MAX = 200.0  # pieces; a kettle holds about half of that


def decide(state: Cook, command: cmd.Command, now_s: float) -> Decision:
    """What becomes of `command` at `now_s` (epoch seconds).

    A `Record` holds the events to commit; only then is it read back.
    """
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
    return _closing(_fresh(replace(state, pending=None), command, now_s), "replaced")


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
        case cmd.EndCook() if now_s - pending.asked_s > AGAIN_S:
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
    if pending.why == "below_mark" and isinstance(option, cmd.BirdsOff):
        return _closing(off_for_now(state, option), "no")
    return Record((ev.AskBackClosed("no"),), command, notes=("dropped",))


def _numbered(state: Cook, command: cmd.Number | cmd.Correct, now_s: float) -> Decision | None:
    """A bare number settles a question between readings."""
    pending = state.pending
    assert pending is not None
    said = command.said
    readings = [
        one for one in pending.options if isinstance(one, cmd.BirdReading | cmd.GrillReading)
    ]
    if not readings or said is None:
        return None
    for option in readings:
        if option.said.number == said.number:
            return _insist(state, option, now_s)
    first = readings[0]
    if isinstance(first, cmd.BirdReading):
        meant: cmd.Command = with_number(first, said.number)
    else:
        meant = replace(first, temperature=command.temperature or 0.0, said=said)
    decision = _fresh(replace(state, pending=None), meant, now_s)
    return _closing(decision, "number")


def _insist(state: Cook, option: cmd.Command, now_s: float) -> Decision:
    """Record what was asked about, without asking again."""
    free = replace(state, pending=None)
    decision: Decision
    if isinstance(option, cmd.BirdReading | cmd.BirdWeight | cmd.GrillReading | cmd.BirdsOff):
        decision = decide_bird(free, option, now_s, confirmed=True)
    elif isinstance(option, cmd.Correct):
        decision = _correct(free, option, confirmed=True)
    elif isinstance(option, cmd.EndCook):
        decision = Record((ev.CookEnded(),), option)
    else:
        decision = _fresh(free, option, now_s)
    return _closing(decision, "settled")


def _fresh(state: Cook, command: cmd.Command, now_s: float) -> Decision:
    if isinstance(command, cmd.BirdSauce | cmd.TimerSet) and claims(_name(command)):
        return no.ClaimingName()
    beyond = beyond_tonight(state, command)
    if beyond is not None:
        return beyond
    if isinstance(command, cmd.BirdCommand):
        return decide_bird(state, command, now_s)
    if isinstance(command, cmd.FireCommand):
        return _decide_fire(state, command)
    if isinstance(command, cmd.TimeCommand):
        return _decide_time(state, command, now_s)
    if isinstance(command, cmd.ListCommand):
        return decide_list(state, command)
    if isinstance(command, cmd.Question):
        return answer(state, command, now_s)
    return _decide_talk(state, command, now_s)


def _name(command: cmd.BirdSauce | cmd.TimerSet) -> str:
    return command.sauce if isinstance(command, cmd.BirdSauce) else command.name or ""


def _decide_fire(state: Cook, command: cmd.FireCommand) -> Decision:
    match command:
        case cmd.FuelAdded(count) if not 0 < count <= FUEL_MAX:
            return no.FuelCount(count)
        case cmd.FuelAdded(count, kind):
            return Record((ev.FuelPut(count, kind or "briquettes"),), command)
        case cmd.WoodAdded():
            return Record((ev.WoodPut(),), command)
        case cmd.LidOff():
            if state.fire.lid_is_off:
                return ans.Already(command)
            return Record((ev.LidOpened(),), command)
        case cmd.LidOn():
            if not state.fire.lid_is_off:
                return ans.Already(command)
            return Record((ev.LidClosed(),), command)
        case cmd.FireLit():
            return Record((ev.FireStarted(),), command, notes=("outdoors",))
        case cmd.Vents(which, opening):
            return Record((ev.VentsSet(which, opening),), command)
        case cmd.Trouble(kind, bird):
            return Record((ev.TroubleNoted(kind, bird, effect_of(kind)),), command)


def _decide_time(state: Cook, command: cmd.TimeCommand, now_s: float) -> Decision:
    match command:
        case cmd.ServeAt(time, vague, day):
            burning = state.fire.lit_s is not None or any(one.has_been_on for one in state.birds)
            serve_s = next_time(now_s, time, state.zone, vague=vague, day=day, tonight=burning)
            if serve_s is None:
                return no.ServePast()
            return Record((ev.ServeSet(serve_s),), command)
        case cmd.ServeIn(minutes):
            if not 0 < minutes <= TIMER_MAX_MIN:
                return no.Minutes()
            return Record((ev.ServeSet(now_s + 60 * minutes),), command)
        case cmd.Hold(minutes):
            minutes = 15.0 if minutes is None else minutes
            serve_s = None if state.serve_s is None else state.serve_s + 60 * minutes
            return Record((ev.Held(minutes, serve_s),), command)
        case cmd.TimerSet(minutes, name):
            if not 0 < minutes <= TIMER_MAX_MIN:
                return no.Minutes()
            if sum(one.due_s > now_s for one in state.timers) >= MOST_TIMERS:
                return no.TooManyTimers(MOST_TIMERS)
            return Record((ev.TimerStarted(now_s + 60 * minutes, minutes, name),), command)
        case cmd.TimerCancel(name):
            running = [one for one in state.timers if name is None or one.name == name]
            running = [one for one in running if one.due_s > now_s] or running
            if not running:
                return no.NoTimer(name)
            last = running[-1]
            return Record((ev.TimerCancelled(last.number, last.name),), command)


def _decide_talk(state: Cook, command: cmd.TalkCommand, now_s: float) -> Decision:
    match command:
        case cmd.Undo():
            return _undo(state, command)
        case cmd.No() if _was_just_read_back(state, now_s):
            return _undo(state, command)
        case cmd.Correct():
            return _correct(state, command)
        case cmd.ItemDone() if item_at(state.readiness) is not None:
            return decide_list(state, command)
        case cmd.Acknowledge() | cmd.ItemDone():
            keys = last_open(state, now_s)
            return Record((ev.PromptAcknowledged(keys),), command) if keys else ans.NothingOpen()
        case cmd.Snooze(minutes):
            keys = last_open(state, now_s)
            if not keys:
                return ans.NothingOpen()
            until_s = now_s + 60 * (SNOOZE_MIN if minutes is None else minutes)
            return Record((ev.PromptSnoozed(keys, until_s),), command)
        case cmd.StartCook():
            return ans.Already(command)
        case cmd.EndCook():
            if not_finished(state):
                return AskBack((command,), "end_raw")
            return Record((ev.CookEnded(),), command)
        case cmd.Sleep():
            return Record((ev.Slept(),), command)
        case cmd.Wake():
            return Record((ev.Woke(),), command)
        case cmd.Quieter() | cmd.Louder():
            step = 1 if isinstance(command, cmd.Louder) else -1
            return Record((ev.VolumeChanged(step),), command)
        case cmd.Repeat():
            return ans.SayAgain() if item_at(state.readiness) is None else list_item(state)
        case cmd.Hush():
            return ans.StopSpeech()
        case cmd.Yes() | cmd.No() | cmd.Choose() | cmd.Number() | cmd.AwayFor():
            return ans.NothingAsked()


def last_facts(state: Cook) -> tuple[ev.Recorded, ...]:
    """The last undoable event and those recorded with it (birds on: one each)."""
    doubts = {one.seq for bird in state.birds for one in bird.open_doubts}
    facts = [one for one in state.recent if ev.is_undoable(one.event) or one.seq in doubts]
    if not facts:
        return ()
    last = facts[-1]
    return tuple(
        one for one in facts if one.at_s == last.at_s and type(one.event) is type(last.event)
    )


def _was_just_read_back(state: Cook, now_s: float) -> bool:
    """Whether the last fact is what a "no" would be about: fresh, and nothing heard since."""
    facts = last_facts(state)
    if not facts or now_s - facts[-1].at_s > NO_S:
        return False
    return state.heard_s is None or state.heard_s <= facts[-1].at_s


def _undo(state: Cook, command: cmd.Undo | cmd.No | cmd.Correct) -> Decision:
    facts = last_facts(state)
    if not facts:
        return no.NothingToUndo()
    return Record(tuple(ev.Undone(one.seq) for one in facts), command)


def _correct(state: Cook, command: cmd.Correct, *, confirmed: bool = False) -> Decision:
    """The last reading with another number, as hard to believe as a new reading would be."""
    if command.temperature is None or command.said is None:
        return _undo(state, command)
    target = last_read(state)
    if target is None:
        return no.NothingToCorrect()
    said = command.said
    if isinstance(target.event, ev.BirdRead):
        meant: cmd.BirdReading | cmd.GrillReading = cmd.BirdReading(
            target.event.bird, command.temperature, said, target.event.spot
        )
    else:
        meant = cmd.GrillReading(command.temperature, said)
    checked = decide_bird(without_reading(state, target.seq), meant, target.at_s,
                          confirmed=confirmed)  # fmt: skip
    if isinstance(checked, AskBack):
        return AskBack(tuple(_correction(one) for one in checked.options), checked.why)
    if not isinstance(checked, Record):
        return checked
    event = checked.events[0]
    assert isinstance(event, ev.BirdRead | ev.GrillRead)
    return Record((ev.Corrected(target.seq, event.temperature, said),), command)


def _correction(reading: cmd.Command) -> cmd.Command:
    assert isinstance(reading, cmd.BirdReading | cmd.GrillReading)
    return cmd.Correct(reading.temperature, reading.said)
