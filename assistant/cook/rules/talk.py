"""Talk with the program: answers, mending, how it speaks. Pure."""

from dataclasses import replace

from assistant.cook.rules.birds import decide_bird
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.dinner import TIMER_MAX_MIN
from assistant.cook.rules.done import done_facts
from assistant.cook.rules.doubts import last_read, without_reading
from assistant.cook.rules.due import last_open
from assistant.cook.rules.fire import decide_fire
from assistant.cook.rules.lifting import not_finished
from assistant.cook.rules.plausible import GRILL_HIGH_F, MEAT_HIGH_F
from assistant.cook.rules.program import prompt_of, with_prompt
from assistant.cook.rules.readiness import decide_list, item_at, list_item
from assistant.cook.state import Cook
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no
from assistant.heat.degrees import from_scale

NO_S = 20.0  # "no" this soon after a read-back takes it back
SNOOZE_MIN = 5.0
GRILL_F = (MEAT_HIGH_F, GRILL_HIGH_F)


def decide_talk(state: Cook, command: cmd.TalkCommand, now_s: float) -> Decision:
    """The decision on an answer, a mending, or a word about the program."""
    match command:
        case cmd.Undo():
            return _undo(state, command)
        case cmd.No() if _was_just_read_back(state, now_s):
            return _undo(state, command)
        case cmd.Correct():
            return correct(state, command)
        case cmd.ItemDone() if item_at(state.readiness) is not None:
            return decide_list(state, command)
        case cmd.Acknowledge() | cmd.ItemDone():
            keys = last_open(state, now_s)
            done = isinstance(command, cmd.ItemDone)
            settled = ev.PromptAcknowledged(keys, done=done)
            facts = done_facts(state, keys, now_s) if done else ()
            return Record((*facts, settled), command) if keys else ans.NothingOpen()
        case cmd.Snooze(minutes):
            keys = last_open(state, now_s)
            if not keys:
                return ans.NothingOpen()
            minutes = SNOOZE_MIN if minutes is None else minutes
            if not 0 < minutes <= TIMER_MAX_MIN:
                return no.Minutes()
            return Record((ev.PromptSnoozed(keys, now_s + 60 * minutes),), command)
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
        case cmd.Number(f, said) if GRILL_F[0] < f <= GRILL_F[1] and state.fire.readings:
            return AskBack((cmd.GrillReading(f, said),), "unclear")  # no meat reads that
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


def correct(state: Cook, command: cmd.Correct, *, confirmed: bool = False) -> Decision:
    """The last reading with another number, as hard to believe as a new reading would be."""
    if command.bird is not None:
        return _of_another(state, command, command.bird, confirmed=confirmed)
    if command.temperature is None or command.said is None:
        return _undo(state, command)
    target = last_read(state)
    if target is None:
        return no.NothingToCorrect()
    said = command.said
    free = without_reading(state, target.seq)
    if isinstance(target.event, ev.BirdRead):
        bird = cmd.BirdReading(target.event.bird, command.temperature, said, target.event.spot)
        checked = decide_bird(free, bird, target.happened_s, confirmed=confirmed)
    else:
        grill = cmd.GrillReading(command.temperature, said)
        checked = decide_fire(free, grill, target.happened_s, confirmed=confirmed)
    is_of_grill = GRILL_F[0] < command.temperature <= GRILL_F[1] and state.fire.readings
    if isinstance(checked, no.NoMeatReads) and is_of_grill:
        return AskBack((cmd.GrillReading(command.temperature, said),), "unclear")
    if isinstance(checked, AskBack):
        return AskBack(tuple(_correction(one) for one in checked.options), checked.why)
    if not isinstance(checked, Record):
        return checked
    event = checked.events[0]
    assert isinstance(event, ev.BirdRead | ev.GrillRead)
    insisted = confirmed or None
    return Record((ev.Corrected(target.seq, event.temperature, said, insisted),), command)


def _of_another(state: Cook, command: cmd.Correct, bird: int, *, confirmed: bool) -> Decision:
    """The last bird reading was of another bird: it is taken back and put down there."""
    readings = [one for one in state.recent if isinstance(one.event, ev.BirdRead)]
    if not readings:
        return no.NothingToCorrect()
    target, read = readings[-1], readings[-1].event
    assert isinstance(read, ev.BirdRead)
    told_f, said = from_scale(read.said.number, read.said.scale), read.said
    if command.temperature is not None and command.said is not None:
        told_f, said = command.temperature, command.said
    meant = cmd.BirdReading(bird, told_f, said, read.spot)
    free = without_reading(state, target.seq)
    checked = decide_bird(free, meant, target.happened_s, confirmed=confirmed)
    if isinstance(checked, AskBack):
        some = [one for one in checked.options if isinstance(one, cmd.BirdReading)]
        options = tuple(cmd.Correct(one.temperature, one.said, bird) for one in some)
        return replace(checked, options=options)
    if not isinstance(checked, Record):
        return checked
    moved = (  # it keeps the time it was told to be of
        replace(one, at_s=read.at_s) if isinstance(one, ev.BirdRead) else one
        for one in checked.events
    )
    return replace(checked, events=(ev.Undone(target.seq), *moved), notes=("moved",))


def _correction(reading: cmd.Command) -> cmd.Command:
    assert isinstance(reading, cmd.BirdReading | cmd.GrillReading)
    return cmd.Correct(reading.temperature, reading.said)


def talk_is_idle(state: Cook, command: cmd.TalkCommand) -> bool:
    """Whether the command would change nothing now."""
    match command:
        case cmd.Acknowledge() | cmd.Snooze():
            return all(one.acknowledged_s is not None for one in state.prompts)
        case cmd.Wake():
            return not state.asleep
        case cmd.StartCook():
            return state.is_running
        case (
            cmd.ItemDone() | cmd.Correct() | cmd.Undo() | cmd.Repeat() | cmd.Yes() | cmd.No()
            | cmd.Choose() | cmd.Number() | cmd.EndCook() | cmd.Sleep() | cmd.Quieter()
            | cmd.Louder() | cmd.Hush() | cmd.AwayFor()
        ):  # fmt: skip
            return False


def step_talk(state: Cook, entry: ev.Recorded, event: ev.TalkEvent) -> Cook:
    """The state after an answer, or a word about the program."""
    at_s = entry.at_s
    match event:
        case ev.PromptAcknowledged(keys, done):
            for key in keys:
                record = replace(prompt_of(state, key), acknowledged_s=at_s, done=done)
                state = with_prompt(state, record)
            return state
        case ev.PromptSnoozed(keys, until_s):
            for key in keys:
                record = replace(prompt_of(state, key), snoozed_until_s=until_s)
                state = with_prompt(state, record)
            return state
        case ev.Slept():
            return replace(state, asleep=True)
        case ev.Woke():
            return replace(state, asleep=False)
        case ev.VolumeChanged(step):
            return replace(state, volume=max(-5, min(5, state.volume + step)))
        case ev.Undone() | ev.Corrected():  # they fold again what came before: see `fold`
            return state
