"""Recorded evenings to look back on, made from words by the program's own rules."""

import re
from functools import lru_cache
from pathlib import Path

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Record
from assistant.cook.rules.due import due
from assistant.cook.rules.fold import apply
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.grammar.grammar import Names
from assistant.grammar.parse import parse
from assistant.lookback.facts import Evening, evening

START_S = 1_779_566_400.0  # a Saturday, 16:00 in New York
SCRIPT = Path(__file__).with_name("dinner.txt")
BEGAN = ev.CookBegan(zone="America/New_York", birds=3, name="family dinner")


def told(
    lines: list[tuple[float, str]], began: ev.CookBegan = BEGAN, start_s: float = START_S
) -> tuple[ev.Recorded, ...]:
    """The journal of an evening in which these words were said, `(seconds, words)`."""
    recorded: list[ev.Recorded] = []
    state = Cook()

    def keep(at_s: float, *events: ev.Event) -> None:
        nonlocal state
        for event in events:
            recorded.append(ev.Recorded(len(recorded) + 1, at_s, event))
            state = apply(state, recorded[-1])

    keep(start_s, began)
    for at, words in lines:
        now_s = start_s + at
        for prompt in due(state, now_s):
            keep(now_s, ev.PromptSaid(prompt.key, prompt.urgency, now_s - prompt.due_s))
        command = parse(words, Names(birds=8, sauces=()), open_names=True)
        decision = decide(state, command, now_s)
        heard = ev.WordsHeard(words, 1.0, "accept", command.NAME)
        if isinstance(decision, Record):
            keep(now_s, heard, *decision.events)
        elif isinstance(decision, AskBack):
            keep(now_s, heard, ev.AskedBack(decision.options, decision.why))
        else:
            keep(now_s, heard)
    return tuple(recorded)


def lines_of(text: str) -> list[tuple[float, str]]:
    """Script text as seconds and words."""
    found = re.findall(r"^(\d+):(\d\d):(\d\d)\s+(.+)$", text, re.MULTILINE)
    return [(3600.0 * int(h) + 60 * int(m) + int(s), words) for h, m, s, words in found]


@lru_cache(maxsize=1)
def family_dinner() -> tuple[ev.Recorded, ...]:
    """An evening of three birds with a correction, an undo and an ask-back."""
    return told(lines_of(SCRIPT.read_text(encoding="utf-8")))


@lru_cache(maxsize=1)
def family_evening() -> Evening:
    """That evening with hindsight."""
    return evening(family_dinner(), "Family dinner")
