"""What must hold at every moment of an evening. Each check raises and says what broke."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Sequence
from typing import TYPE_CHECKING

from assistant.cook.rules import away
from assistant.cook.rules.due import due
from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.events import Recorded
from assistant.cook.vocabulary.prompts import Prompt
from assistant.journal.reader import JournalReader
from assistant.session.turn import LATE_S

if TYPE_CHECKING:
    from tests.reliability.simulate import Evening

FULL_EVERY = 10  # steps between comparisons with the whole journal
MOST_WAKES = 20  # at one moment
STORM_S = 45.0  # nothing is said twice within this
SAFE = re.compile(  # in no sentence
    r"\b((un)?(safe|harmless|edible|sterile|wholesome)"
    r"|(fit|fine|good|okay|ok|ready) (to eat|for eating)"
    r"|(germ|bacteri|salmonell|campylobacter|pathogen)|(no|without|free of) (risk|danger)"
    r"|(can ?not|can't|cannot|won't|will not) (harm|hurt|make \w+ (ill|sick)))",
    re.IGNORECASE,
)


class BrokenError(AssertionError):
    """Something that must always hold does not."""


def holds(condition: object, what: str) -> None:
    """Raise `BrokenError` with `what` unless the condition is true."""
    if not condition:
        raise BrokenError(what)


def after_step(evening: Evening) -> None:
    """After every event: the state, the prompts and the words are as they must be."""
    state = evening.session.state
    new, evening.shown = evening.lines[evening.shown :], len(evening.lines)
    for line in new:
        if line.kind == "said":
            _check_words(str(line.fields["text"]))
        if line.kind == "forecast":
            _check_quantiles(line.fields["quantiles"])
    if state.is_running and not state.asleep:
        left = due(state, evening.session.now())
        holds(not left, f"due and not said: {[one.key for one in left]}")
    evening.counts["steps"] += 1
    if evening.counts["steps"] % FULL_EVERY == 0:
        _check_state(evening)


def time_goes_on(evening: Evening, left: Cook, wrong_s: float, known_s: float | None) -> None:
    """After a restart elapsed time counts on: exactly, whatever the clock says, where the
    computer ran on (`known_s`); else a clock that is far off is asked about."""
    session = evening.session
    holds(session.state.is_running, "a restart ended the cook")
    if known_s is not None:
        holds(abs(session.now() - known_s) < 1.0, f"{session.now() - known_s:+.0f} s wrong")
        evening.counts["exact_restart"] += 1
    else:
        holds(left.at_s <= session.now() <= left.at_s + away.LONG_S, "time jumped")
        pending = session.state.pending
        asked = pending is not None and pending.why in away.ASKING
        holds(asked or not wrong_s, "a wrong clock was taken")
    before_s = session.now()
    evening.clock.run_until(evening.clock.now() + 1.0)
    holds(session.now() == before_s + 1.0, "time stands still")


def no_hurry(evening: Evening) -> None:
    """The clock does not wake the session again and again at one moment."""
    at_s, times = evening.woken
    evening.woken = (evening.clock.now(), times + 1 if evening.clock.now() == at_s else 1)
    holds(evening.woken[1] <= MOST_WAKES, "woken without end at one moment")


def _check_words(text: str) -> None:
    holds(text.isprintable() and text.strip(), f"cannot be printed: {text!r}")
    holds(not SAFE.search(text), f"claims that food is safe: {text!r}")


def _check_quantiles(quantiles: object) -> None:
    if isinstance(quantiles, dict):
        known = [value for value in quantiles.values() if value is not None]
        holds(known == sorted(known), f"quantiles out of order: {quantiles}")


def _check_state(evening: Evening) -> None:
    recorded, state = evening.log.recorded, evening.session.state
    holds(fold(recorded) == state, "the state is not what its events make")
    holds([entry.seq for entry in recorded] == list(range(1, len(recorded) + 1)), "places")
    _check_readings(recorded, state)
    _check_storm(recorded)


def _check_readings(recorded: Sequence[Recorded], state: Cook) -> None:
    """The readings counted again, the slow way: an own walk over all events."""
    kept: dict[int, tuple[int, float]] = {}
    for entry in recorded:
        match entry.event:
            case ev.BirdRead(bird, temperature):
                kept[entry.seq] = (bird, temperature)
            case ev.Undone(target):
                kept.pop(target, None)
            case ev.Corrected(target, temperature):
                if target in kept:
                    kept[target] = (kept[target][0], temperature)
    expected = {
        bird: [(seq, temp) for seq, (number, temp) in sorted(kept.items()) if number == bird]
        for bird in {bird for bird, _ in kept.values()}
    }
    found = {
        bird.number: [(one.seq, one.temperature_f) for one in bird.readings]
        for bird in state.birds
        if bird.readings
    }
    holds(found == expected, f"readings {found} where {expected} were recorded")


def _check_storm(recorded: Sequence[Recorded]) -> None:
    last: dict[str, float] = {}
    for entry in recorded:
        if isinstance(entry.event, ev.PromptSaid):
            key = entry.event.key
            since_s = entry.at_s - last.get(key, float("-inf"))
            holds(since_s >= STORM_S, f"{key} said again after {since_s:.0f} s")
            last[key] = entry.at_s


def after_restart(acknowledged: Sequence[Recorded], safe: int, found: Sequence[Recorded]) -> None:
    """What was acknowledged as on disk is there, and nothing else than what was recorded."""
    holds(tuple(acknowledged[: len(found)]) == tuple(found), "the journal holds something else")
    holds(len(found) >= safe, f"{safe - len(found)} of {safe} acknowledged facts are lost")


def after_resume(evening: Evening, waiting: Sequence[Prompt]) -> None:
    """What fell due meanwhile was spoken, and said so where it was late."""
    now_s = evening.session.now()
    said = {
        entry.event.key: entry.event
        for entry in evening.log.recorded
        if isinstance(entry.event, ev.PromptSaid) and entry.at_s == now_s
    }
    spoken = " ".join(
        str(line.fields["text"]) for line in evening.lines[evening.shown :] if line.kind == "said"
    )
    for prompt in waiting:
        holds(prompt.key in said, f"{prompt.key} fell due while away and was dropped")
        evening.counts["prompts after a restart"] += 1
        if prompt.said == 0 and prompt.urgency != "convenient" and now_s - prompt.due_s > LATE_S:
            holds(" late. " in spoken, f"{prompt.key} was late and did not say so")
            evening.counts["spoken late"] += 1


def at_end(evening: Evening) -> None:
    """The disk works again: everything that was ever said is on it, and reads the same."""
    _check_state(evening)
    holds(evening.journal.is_safe, "the disk works and the journal is not back on it")
    recorded = tuple(evening.log.recorded)
    path = evening.journal.live_path
    with JournalReader(path) as reader:
        holds(reader.events(f"{evening.seed:032x}") == recorded, "the journal holds something else")


def prompts_said(recorded: Sequence[Recorded]) -> int:
    """How many prompts were spoken."""
    return Counter(type(entry.event) for entry in recorded)[ev.PromptSaid]
