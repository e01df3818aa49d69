"""One turn: what is said for events that were recorded together. Pure.

A live session, a rehearsal and a replay all come through here: the session with the
events it has just committed, the replay with those that a journal holds.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TypeVar

from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.due import due, held_since, next_due, prompts
from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import SayAgain, StopSpeech
from assistant.cook.vocabulary.prompts import Key
from assistant.cook.vocabulary.refusals import Refusal
from assistant.ears.heard import Heard
from assistant.grammar.sayback import say_back
from assistant.sentences import all as sentences
from assistant.sentences.all import Sentence
from assistant.system.clock import Boot
from assistant.voice.speech import Urgency

LATE_S = 60.0  # what is said later than this after it was due (a restart, a suspend) says so
RANK: tuple[Urgency, ...] = ("now", "soon", "convenient")
_URGENCY: dict[str, Urgency] = {one: one for one in RANK}


@dataclass(frozen=True, slots=True)
class Talk:
    """A cook and the talk about it: the state, and what no event keeps.

    `last_said` is for "say again"; `misses` counts utterances in a row that were not
    understood; `armed_s`: when the next prompt was to be said, epoch seconds.
    """

    state: Cook
    last_said: Sentence | None = None
    misses: int = 0
    armed_s: float | None = None


@dataclass(frozen=True, slots=True)
class Said:
    """What a turn says. `why` names the reason in lines and JSON."""

    sentence: Sentence
    urgency: Urgency = "reply"
    why: str | None = None


def events_of(decision: Decision) -> tuple[ev.Event, ...]:
    """The events that a decision makes facts."""
    if isinstance(decision, Record):
        return decision.events
    if isinstance(decision, AskBack):
        later = decision.later or None
        return (ev.AskedBack(decision.options, decision.why, decision.clock_s, later),)
    return ()


def parted(decision: Decision) -> tuple[Decision | None, tuple[ev.Waiting, ...]]:
    """A decision as what is clear of it, and what it asks."""
    if isinstance(decision, AskBack):
        return None, (ev.Waiting(decision.options, decision.why), *decision.later)
    last = decision.events[-1] if isinstance(decision, Record) and decision.events else None
    if not isinstance(decision, Record) or not isinstance(last, ev.AskedBack):
        return decision, ()
    clear = replace(decision, events=decision.events[:-1])
    return clear, (ev.Waiting(last.options, last.why), *(last.later or ()))


def take_in(talk: Talk, group: Sequence[ev.Recorded]) -> Talk:
    """The talk after these events were recorded together, before anything is said."""
    before, first = talk.state, group[0]
    after = replace(talk, state=fold(group, before))
    match first.event:
        case ev.WordsHeard(_, _, outcome):
            after = replace(after, misses=talk.misses + 1 if outcome == "refuse" else 0)
        case ev.Resumed():
            waiting = [one.due_s for one in due(after.state, first.at_s)]  # manners or not
            told_s = next_due(before)
            armed_s = min([*waiting, *([] if told_s is None else [told_s])], default=None)
            after = replace(after, armed_s=armed_s)
    if any(isinstance(one.event, ev.Woke) for one in group):
        # What it slept through is told with how late it is.
        after = replace(after, armed_s=held_since(before))
    return after


def armed(talk: Talk) -> Talk:
    """The talk once the clock is set to the next prompt."""
    return replace(talk, armed_s=next_due(talk.state))


def told(
    before: Talk, after: Talk, group: Sequence[ev.Recorded], decision: Decision | None = None
) -> Said | None:
    """What is said for the events `group`, which led from `before` to `after`; `decision` is
    what was decided on words heard. None: nothing is."""
    first = group[0]
    match first.event:
        case ev.WordsHeard(_, _, "refuse"):
            return Said(sentences.missed(after.misses, after.state), why="not understood")
        case ev.WordsHeard(_, _, outcome) if decision is not None:
            return _reply(before, after, decision, stressed=outcome == "stress")
        case ev.PromptSaid():
            return _prompted(before, after, group)
        case ev.Resumed(away_s):
            return Said(sentences.came_back(after.state, away_s or None))
        case ev.AskedBack(options, why, float() as clock_s):  # where the clock looks wrong
            return Said(sentences.ask_back(AskBack(options, why, clock_s), after.state), why=why)
        case _:
            return None


def _reply(before: Talk, after: Talk, decision: Decision, *, stressed: bool) -> Said | None:
    state = after.state
    if isinstance(decision, Record):
        told_back = sentences.read_back(decision, before.state, state, stressed=stressed)
        return Said(_asking_on(told_back, decision, state))
    if isinstance(decision, AskBack):
        return Said(sentences.ask_back(decision, state), why=decision.why)
    if isinstance(decision, Refusal):
        return Said(sentences.refusal(decision, state), why=decision.WHY)
    if isinstance(decision, StopSpeech):
        return None
    if isinstance(decision, SayAgain):
        return Said(before.last_said or sentences.NOTHING_SAID)
    return Said(sentences.answer(decision, state), why=decision.TOPIC)


def _asking_on(told_back: Sentence, record: Record, state: Cook) -> Sentence:
    """The read-back, and after it what is asked in the same breath."""
    last = record.events[-1] if record.events else None
    if not isinstance(last, ev.AskedBack):
        return told_back
    return joined(told_back, sentences.ask_back(AskBack(last.options, last.why), state))


def joined(*some: Sentence) -> Sentence:
    """Several sentences as one."""
    return Sentence(" ".join(one.text for one in some), " ".join(one.spoken for one in some))


def _prompted(before: Talk, after: Talk, group: Sequence[ev.Recorded]) -> Said:
    """The prompts said, in one sentence; of one that these rules no longer know, its name."""
    events = [one.event for one in group if isinstance(one.event, ev.PromptSaid)]
    by_key = {one.key: one for one in prompts(before.state)}
    known = tuple(by_key[one.key] for one in events if one.key in by_key)
    urgency = min((_URGENCY.get(one.urgency, "soon") for one in events), key=RANK.index)
    why = Key.read(events[0].key).kind
    if not known:
        return Said(sentences.sentence(f"{why.replace('_', ' ').capitalize()}."), urgency, why)
    now_s = group[0].at_s
    late_s = late(before.armed_s, now_s)
    return Said(sentences.prompt(known, after.state, now_s, late_s=late_s), urgency, why)


def late(armed_s: float | None, now_s: float) -> float:
    """Seconds by which what is said at `now_s` is later than it was to be said at
    `armed_s`; 0 where that is not worth a word."""
    late_s = 0.0 if armed_s is None else now_s - armed_s
    return late_s if late_s > LATE_S else 0.0


_Dated = TypeVar("_Dated", ev.CookBegan, ev.Resumed)


def dated(event: _Dated, boot: Boot | None, at_s: float) -> _Dated:
    """The event with the computer's boot, by this cook's time `at_s`."""
    if boot is None:
        return event
    return replace(event, boot=boot.name, booted_s=at_s - boot.since_s)


def words_heard(heard: Heard, outcome: str, command: cmd.Command | None) -> ev.WordsHeard:
    """What the journal keeps of the words, with the grammar's sentence for the command."""
    name, meaning = (command.NAME, say_back(command)) if command is not None else (None, None)
    return ev.WordsHeard(heard.words, heard.confidence, outcome, name, meaning)
