"""What a session said, worked out again from its journal.

The journal keeps what was heard and what became of it; what was said follows from
that by the program's own rules. Lines are those of a live session, so they print
and turn to JSON the same way.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile

from assistant.cook import events as ev
from assistant.cook.codec import command_json, event_json
from assistant.cook.commands import Acknowledge, Command, Factual, Scale
from assistant.cook.decide import decide
from assistant.cook.decision import AskBack, Decision, Record
from assistant.cook.fold import apply
from assistant.cook.prompt import Key
from assistant.cook.prompts import held_since, next_due, prompts
from assistant.cook.state import Cook
from assistant.cook.vocabulary.answers import SayAgain, StopSpeech
from assistant.cook.vocabulary.refusals import Refusal
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse
from assistant.sentences import all as sentences
from assistant.session.line import Line
from assistant.session.session import late
from assistant.voice.speech import Speech, Urgency

_RANK: tuple[Urgency, ...] = ("now", "soon", "convenient")
_URGENCY: dict[str, Urgency] = {one: one for one in _RANK}


@dataclass(frozen=True, slots=True)
class Moment:
    """One step of a replay: the lines of one event group and the state after it.

    `at_s` is epoch seconds, `seq` the place of its last event. `speech` is what was
    said aloud, None where nothing was.
    """

    at_s: float
    seq: int
    lines: tuple[Line, ...]
    state: Cook
    speech: Speech | None = None


def moments(recorded: Sequence[ev.Recorded], start: Cook | None = None) -> Iterator[Moment]:
    """The cook step by step: an utterance with what came of it is one step."""
    state = start if start is not None else Cook()
    last_said: sentences.Sentence | None = None
    armed: Cook | None = None  # the state when the clock was last set to the next prompt
    before_turn: Cook | None = None
    misses = 0  # utterances in a row that were not understood
    turn_s: float | None = None  # when somebody spoke last: what follows at once is one turn
    place = 0
    while place < len(recorded):
        group = _group(recorded, place)
        place += len(group)
        first, after = group[0], state
        for entry in group:
            after = apply(after, entry)
        if not isinstance(first.event, ev.PromptSaid) or first.at_s != turn_s:
            before_turn = armed
        if isinstance(first.event, ev.WordsHeard):
            misses = misses + 1 if first.event.outcome == "refuse" else 0
        said, urgency, why = _said(group, state, after, Then(last_said, before_turn, misses))
        lines = _lines(group, after, said, urgency, why)
        speech = Speech(said.text, said.spoken, urgency) if said is not None else None
        yield Moment(group[-1].at_s, group[-1].seq, lines, after, speech)
        last_said = said if said is not None else last_said
        if isinstance(first.event, ev.WordsHeard | ev.Resumed):
            turn_s = first.at_s
        if isinstance(first.event, ev.WordsHeard | ev.Resumed | ev.PromptSaid):
            armed = after
        state = after


@dataclass(frozen=True, slots=True)
class Then:
    """What a live session remembers beside its state: what it said last, the state for
    which its clock was set before this turn (None: not yet), and how many utterances
    in a row it has not understood."""

    last_said: sentences.Sentence | None
    armed: Cook | None
    misses: int

    def late_s(self, at_s: float, *, asleep: bool) -> float:
        """By how much what is said at `at_s` is late; what it slept through counts from
        when it was due, once it is no longer `asleep`."""
        if self.armed is None:
            return 0.0
        woke = self.armed.asleep and not asleep
        return late(held_since(self.armed) if woke else next_due(self.armed), at_s)


def _group(recorded: Sequence[ev.Recorded], place: int) -> tuple[ev.Recorded, ...]:
    """The events that were recorded together, from `place` on: an utterance with its
    facts, prompts said in one sentence, or a single event."""
    first, later = recorded[place], recorded[place + 1 :]
    apart: tuple[type, ...]
    if isinstance(first.event, ev.WordsHeard):
        apart = (ev.WordsHeard, ev.PromptSaid, ev.Resumed)
        more = takewhile(
            lambda one: one.at_s == first.at_s and not isinstance(one.event, apart), later
        )
    elif isinstance(first.event, ev.PromptSaid):
        more = takewhile(
            lambda one: one.at_s == first.at_s and isinstance(one.event, ev.PromptSaid), later
        )
    else:
        return (first,)
    return (first, *more)


Said = tuple[sentences.Sentence | None, Urgency, str | None]


def _said(group: Sequence[ev.Recorded], before: Cook, after: Cook, then: Then) -> Said:
    """What was said at this step, with its urgency and reason."""
    first = group[0]
    match first.event:
        case ev.WordsHeard(_, _, "refuse"):
            return sentences.missed(then.misses, after), "reply", "not understood"
        case ev.WordsHeard():
            return _reply(group, before, after, then.last_said)
        case ev.PromptSaid():
            return _prompted(group, before, after, then)
        case ev.Resumed(away_s):
            return sentences.came_back(after, away_s or None), "reply", None
        case ev.AskedBack(options, why, float() as clock_s):
            return sentences.ask_back(AskBack(options, why, clock_s), after), "reply", why
        case _:
            return None, "reply", None


def _reply(
    group: Sequence[ev.Recorded], before: Cook, after: Cook, last: sentences.Sentence | None
) -> Said:
    heard = group[0].event
    assert isinstance(heard, ev.WordsHeard)
    decision = _decision(group, before)
    stressed = heard.outcome == "stress"
    if isinstance(decision, Record):
        return sentences.read_back(decision, before, after, stressed=stressed), "reply", None
    if isinstance(decision, AskBack):
        return sentences.ask_back(decision, after), "reply", decision.why
    if isinstance(decision, Refusal):
        return sentences.refusal(decision, after), "reply", decision.WHY
    if isinstance(decision, StopSpeech):
        return None, "reply", None
    if isinstance(decision, SayAgain):
        return last if last is not None else sentences.NOTHING_SAID, "reply", None
    return sentences.answer(decision, after), "reply", decision.TOPIC


def _decision(group: Sequence[ev.Recorded], before: Cook) -> Decision:
    """What was decided then: as the rules decide now, unless the journal says otherwise."""
    events = tuple(one.event for one in group[1:])
    command = _command(group[0], before)
    for event in events:
        if isinstance(event, ev.AskedBack):
            return AskBack(event.options, event.why, event.clock_s)
    if command is None:
        return Record(events, Acknowledge())
    decision = decide(before, command, group[0].at_s)
    if isinstance(decision, Record) and decision.events == events:
        return decision
    meant = command if isinstance(command, Factual) else None
    return Record(events, meant) if events else decision


def _command(entry: ev.Recorded, state: Cook) -> Command | None:
    heard = entry.event
    assert isinstance(heard, ev.WordsHeard)
    if heard.command is None:
        return None
    try:
        scale: Scale = "C" if state.scale == "C" else "F"
        return parse(heard.words, Names(), scale=scale, open_names=True)
    except NotUnderstood:
        return None


def _prompted(group: Sequence[ev.Recorded], before: Cook, after: Cook, then: Then) -> Said:
    said = [one.event for one in group if isinstance(one.event, ev.PromptSaid)]
    by_key = {one.key: one for one in prompts(before)}
    known = tuple(by_key[one.key] for one in said if one.key in by_key)
    urgency = min((_URGENCY.get(one.urgency, "soon") for one in said), key=_RANK.index)
    why = Key.read(said[0].key).kind
    if not known:
        return sentences.sentence(f"{why.replace('_', ' ').capitalize()}."), urgency, why
    late_s = then.late_s(group[0].at_s, asleep=before.asleep)
    return sentences.prompt(known, after, group[0].at_s, late_s=late_s), urgency, why


def _lines(
    group: Sequence[ev.Recorded],
    after: Cook,
    said: sentences.Sentence | None,
    urgency: Urgency,
    why: str | None,
) -> tuple[Line, ...]:
    began_s = after.began_s if after.began_s is not None else group[0].at_s
    t = round(group[0].at_s - began_s, 1)
    lines = []
    for entry in group:
        if isinstance(entry.event, ev.WordsHeard):
            lines.append(Line(t, *_heard(entry, after)))
        else:
            name, fields = event_json(entry.event)
            lines.append(Line(t, "event", {"name": name, "fields": fields}))
    if said is not None:
        lines.append(Line(t, "said", {"text": said.text, "urgency": urgency, "why": why}))
    return tuple(lines)


def _heard(entry: ev.Recorded, state: Cook) -> tuple[str, dict[str, object]]:
    heard = entry.event
    assert isinstance(heard, ev.WordsHeard)
    if heard.outcome == "refuse":
        return "refused", {"words": heard.words, "reason": "not understood"}
    command = _command(entry, state)
    slots = command_json(command)[1] if command is not None else {}
    return "heard", {
        "words": heard.words, "command": heard.command, "slots": slots,
        "confidence": round(heard.confidence, 4),
    }  # fmt: skip
