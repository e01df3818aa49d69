"""What a session said, worked out again from its journal.

The journal keeps what was heard and what became of it; what was said follows from
that by the program's own rules. Lines are those of a live session, so they print
and turn to JSON the same way.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import takewhile

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.codec import command_json, event_json
from assistant.cook.vocabulary.commands import Acknowledge, Command, Factual, Scale
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse
from assistant.sentences.spell import Sentence
from assistant.session.line import Line
from assistant.session.turn import Said, Talk, armed, joined, take_in, told
from assistant.voice.speech import Speech


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
    """The cook step by step: an utterance with what came of it is one step. Facts of one
    breath are told in one sentence, with the last of them."""
    talk = Talk(start if start is not None else Cook())
    spoken_s: float | None = None  # when somebody spoke last: what follows at once is one turn
    is_set, place = False, 0
    breath: list[Sentence] = []  # of one breath, still to be said
    while place < len(recorded):
        group = _group(recorded, place)
        place += len(group)
        first = group[0]
        speaks = isinstance(first.event, ev.WordsHeard | ev.Resumed)
        begins = speaks or first.at_s != spoken_s
        if begins and is_set:  # the turn before ended with the clock set to what comes next
            talk = armed(talk)
        before, talk = talk, take_in(talk, group)
        said = told(before, talk, group, _decision(group, before.state))
        if _goes_on(first, recorded, place):
            breath += [said.sentence] if said is not None else []
            said = None
        elif breath:
            last = [said.sentence] if said is not None else []
            said = replace(said or Said(breath[0]), sentence=joined(*breath, *last))
            breath = []
        yield Moment(group[-1].at_s, group[-1].seq, _lines(group, talk.state, said), talk.state,
                     _speech(said))  # fmt: skip
        if said is not None:
            talk = replace(talk, last_said=said.sentence)
        if speaks:
            spoken_s = first.at_s
        is_set = is_set or speaks or isinstance(first.event, ev.PromptSaid)


def _goes_on(first: ev.Recorded, recorded: Sequence[ev.Recorded], place: int) -> bool:
    """Whether what comes next was heard in the same breath."""
    if place >= len(recorded) or not isinstance(first.event, ev.WordsHeard):
        return False
    then = recorded[place]
    return (
        isinstance(then.event, ev.WordsHeard)
        and then.at_s == first.at_s
        and then.event.words == first.event.words
    )


def _speech(said: Said | None) -> Speech | None:
    if said is None:
        return None
    return Speech(said.sentence.text, said.sentence.spoken, said.urgency)


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


def _decision(group: Sequence[ev.Recorded], before: Cook) -> Decision | None:
    """What was decided then on words that were understood: as the rules decide now, unless
    the journal says otherwise."""
    heard = group[0].event
    if not isinstance(heard, ev.WordsHeard) or heard.outcome == "refuse":
        return None
    events = tuple(one.event for one in group[1:])
    command = _command(group[0], before)
    if len(events) == 1 and isinstance(events[0], ev.AskedBack):
        asked = events[0]
        return AskBack(asked.options, asked.why, asked.clock_s, asked.later or ())
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
        return parse(heard.meaning or heard.words, Names(), scale=scale, open_names=True)
    except NotUnderstood:
        return None


def _lines(group: Sequence[ev.Recorded], after: Cook, said: Said | None) -> tuple[Line, ...]:
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
        fields = {"text": said.sentence.text, "urgency": said.urgency, "why": said.why}
        lines.append(Line(t, "said", fields))
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
        "confidence": round(heard.confidence, 4), "meaning": heard.meaning,
    }  # fmt: skip
