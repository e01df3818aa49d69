"""A past cook again: what was heard and said, at any speed, from any moment.

The journal keeps what was heard and what became of it; what was said follows from
that by the program's own rules and is worked out again here. Lines are those of a
live session, so they print and turn to JSON the same way.
"""

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import takewhile

from assistant.board.view import BoardView, Due
from assistant.cook import events as ev
from assistant.cook.codec import command_json, event_json
from assistant.cook.commands import Acknowledge, Command, Scale
from assistant.cook.decide import decide
from assistant.cook.decision import AskBack, Decision, Record, Refuse
from assistant.cook.fold import apply
from assistant.cook.forecasts import fire_of, forecast_of
from assistant.cook.prompts import prompts
from assistant.cook.state import Cook
from assistant.language import sentences
from assistant.language.grammar import Names
from assistant.language.parse import NotUnderstood, parse
from assistant.language.prompting import short
from assistant.session import Line
from assistant.voice.speech import Speaker, Speech, Urgency

LATE_S = 60.0
NAMES = Names(birds=8, sauces=())
_RANK: tuple[Urgency, ...] = ("now", "soon", "convenient")
_URGENCY: dict[str, Urgency] = {one: one for one in _RANK}
_MOMENT = re.compile(r"(?:(\d{1,3}):)?([0-5]?\d):([0-5]\d)")


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
    place = 0
    while place < len(recorded):
        group = _group(recorded, place)
        place += len(group)
        after = state
        for entry in group:
            after = apply(after, entry)
        said, urgency, why = _said(group, state, after, last_said)
        lines = _lines(group, after, said, urgency, why)
        speech = Speech(said.text, said.spoken, urgency) if said is not None else None
        yield Moment(group[-1].at_s, group[-1].seq, lines, after, speech)
        last_said = said if said is not None else last_said
        state = after


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


def _said(
    group: Sequence[ev.Recorded], before: Cook, after: Cook, last: sentences.Sentence | None
) -> Said:
    """What was said at this step, with its urgency and reason."""
    first = group[0]
    match first.event:
        case ev.WordsHeard(_, _, "refuse"):
            return None, "reply", None
        case ev.WordsHeard():
            return _reply(group, before, after, last)
        case ev.PromptSaid():
            return _prompted(group, before, after)
        case ev.Resumed(away_s):
            return sentences.came_back(after, away_s), "reply", None
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
    if isinstance(decision, Refuse):
        return sentences.refusal(decision, after), "reply", decision.why
    if decision.topic == "hush":
        return None, "reply", None
    if decision.topic == "repeat":
        return last if last is not None else sentences.NOTHING_SAID, "reply", None
    return sentences.answer(decision, after), "reply", decision.topic


def _decision(group: Sequence[ev.Recorded], before: Cook) -> Decision:
    """What was decided then: as the rules decide now, unless the journal says otherwise."""
    events = tuple(one.event for one in group[1:])
    command = _command(group[0], before)
    for event in events:
        if isinstance(event, ev.AskedBack):
            return AskBack(event.options, event.why)
    if command is None:
        return Record(events, Acknowledge())
    decision = decide(before, command, group[0].at_s)
    if isinstance(decision, Record) and decision.events == events:
        return decision
    return Record(events, command) if events else decision


def _command(entry: ev.Recorded, state: Cook) -> Command | None:
    heard = entry.event
    assert isinstance(heard, ev.WordsHeard)
    if heard.command is None:
        return None
    try:
        scale: Scale = "C" if state.scale == "C" else "F"
        return parse(heard.words, NAMES, scale=scale, open_sauces=True)
    except NotUnderstood:
        return None


def _prompted(group: Sequence[ev.Recorded], before: Cook, after: Cook) -> Said:
    said = [one.event for one in group if isinstance(one.event, ev.PromptSaid)]
    by_key = {one.key: one for one in prompts(before)}
    known = tuple(by_key[one.key] for one in said if one.key in by_key)
    urgency = min((_URGENCY.get(one.urgency, "soon") for one in said), key=_RANK.index)
    why = said[0].key.partition(":")[0]
    if not known:
        return sentences.sentence(f"{why.replace('_', ' ').capitalize()}."), urgency, why
    late = max(one.late_s for one in said) > LATE_S
    return sentences.prompt(known, after, group[0].at_s, late=late), urgency, why


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


def parse_moment(text: str) -> float:
    """Seconds since the cook began, from "H:MM:SS" or "MM:SS". Raises ValueError."""
    match = _MOMENT.fullmatch(text.strip())
    if match is None:
        raise ValueError(f"{text!r} is not a moment; write it like 0:40:00")
    hours, minutes, seconds = (int(part or 0) for part in match.groups())
    return 3600.0 * hours + 60.0 * minutes + seconds


def replay(
    steps: Iterator[Moment],
    show: Callable[[Line], None],
    *,
    speaker: Speaker | None = None,
    settle: Callable[[], None] = lambda: None,
    sleep: Callable[[float], None] | None = None,
    speed: float = 1.0,
    from_s: float = 0.0,
) -> int:
    """Show the steps again, and say them; how many there were.

    `from_s` is seconds since the cook began. With `sleep` the pauses of the evening
    are kept, divided by `speed`; without it there are none. `settle` is called after
    each speech, to wait until it was said.
    """
    count, before_s, began_s = 0, None, None
    for step in steps:
        began_s = step.at_s if began_s is None else began_s
        if step.at_s < began_s + from_s:
            continue
        if sleep is not None and before_s is not None:
            sleep((step.at_s - before_s) / speed)
        before_s = step.at_s
        for line in step.lines:
            show(line)
        if speaker is not None and step.speech is not None:
            speaker.say(step.speech)
            settle()
        count += 1
    return count


def view_at(
    recorded: Sequence[ev.Recorded], after_s: float, start: Cook | None = None
) -> BoardView | None:
    """State and forecast as they stood `after_s` seconds into the cook, as a board
    shows them; None before its first event."""
    if not recorded or after_s < 0:
        return None
    now_s = recorded[0].at_s + after_s
    return _view([one for one in moments(recorded, start) if one.at_s <= now_s], now_s)


def _view(steps: Sequence[Moment], now_s: float) -> BoardView:
    state = steps[-1].state
    said = next((one.speech.text for one in reversed(steps) if one.speech is not None), None)
    fire = fire_of(state, now_s)
    return BoardView(
        cook=state,
        now_s=now_s,
        forecast=forecast_of(state),
        fire_leaves=fire.leaves if fire is not None else None,
        due=tuple(Due(one.due_s, short(one), one.urgency) for one in prompts(state)),
        heard=state.last_heard,
        said=said,
        question=said if state.pending is not None else None,
    )


def scrub(
    recorded: Sequence[ev.Recorded],
    keys: Iterator[str],
    show: Callable[[Line], None],
    tell: Callable[[BoardView], None],
    start: Cook | None = None,
) -> None:
    """Step through a cook by event. `keys` are lines typed: nothing or "n" goes on,
    "b" goes back, "s" tells state and forecast there, a moment ("0:40:00") jumps to the
    first step from it on, "q" or the end of `keys` stops. Anything else shows the step
    where it stands again.
    """
    steps = list(moments(recorded, start))
    place = 0
    _show(steps[place], show)
    for key in keys:
        match key.strip().lower():
            case "" | "n":
                if place + 1 == len(steps):
                    return
                place += 1
            case "b":
                place = max(0, place - 1)
            case "s":
                tell(_view(steps[: place + 1], steps[place].at_s))
                continue
            case "q":
                return
            case other if _MOMENT.fullmatch(other):
                place = _from(steps, parse_moment(other))
            case _:
                pass
        _show(steps[place], show)


def _from(steps: Sequence[Moment], from_s: float) -> int:
    at_s = steps[0].at_s + from_s
    return next((n for n, one in enumerate(steps) if one.at_s >= at_s), len(steps) - 1)


def _show(step: Moment, show: Callable[[Line], None]) -> None:
    for line in step.lines:
        show(line)
