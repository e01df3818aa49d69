"""What was told after it happened, in words of the cook's own: "ten minutes ago", "at six"."""

import re
from dataclasses import replace
from functools import lru_cache

from assistant.cook.vocabulary.commands import Datable, Earlier
from assistant.grammar.free.context import Understood
from assistant.grammar.free.open_facts import OpenReading
from assistant.grammar.grammar import Names
from assistant.grammar.match import Failure, Slot
from assistant.grammar.parse import matcher_of

LONGEST = 8  # words that a time takes: "an hour and twenty five minutes ago"
_HEDGES = {"about", "around", "roughly", "maybe", "some", "like", "nearly", "almost", "good"}
_WENT = {
    "went", "been", "came", "put", "took", "lit", "added", "was", "read", "reads", "reading",
    "dropped", "stopped", "started", "picked", "got", "threw", "chucked", "tossed", "dumped",
    "laid", "poured", "loaded", "pulled", "lifted", "sauced", "basted", "brushed",
}  # fmt: skip
_READ = {"read", "reads", "reading"}
_ON_OR_OFF = {"on", "off", "sauced", "up"}
AS_OF_NOW = "I take that as of now only. Say it again as it is."
NOT_YET = "I note what has happened. Tell me then."
HOW_LONG = "Say it again with how many minutes ago."


def split(words: tuple[str, ...]) -> tuple[tuple[str, ...], Earlier] | None:
    """The words without the time they tell, and that time; None where they tell none."""
    words = _plainer(words)
    for end in range(len(words), 0, -1):
        opens = words[0] in _OPENS and words[-1] != "ago"
        if words[end - 1] != "ago" and end < len(words) and not opens:
            continue
        for start in range(max(0, end - LONGEST), end):
            if end < len(words) and words[end - 1] != "ago" and start > 0:
                continue
            when = _time(words[start:end])
            told = words[:start] or words[end:]  # "at ten past four I put the birds on"
            if when is None or not _fits(told, when):
                continue
            head = words[:start]
            while head and head[-1] in _HEDGES:
                head = head[:-1]
            return (*head, *words[end:]), when
    return None


def _plainer(words: tuple[str, ...]) -> tuple[str, ...]:
    text = f" {' '.join(words)} "
    for said, meant in ((" a couple of ", " two "), (" a couple ", " two "), (" since ", " at ")):
        text = text.replace(said, meant)
    text = _BEEN.sub(r" \1\2 ago ", text)
    text = re.sub(
        r" half (?=(?:one|two|three|four|five|six|seven|eight|nine|ten|eleven|twelve) )",
        " half past ",
        text,
    )
    return tuple(text.split())


_OPENS = {"at", "since"}
_BEEN = re.compile(  # "the birds have been on for ten minutes"
    r"^( (?!how |when |what ).*\bbeen\b.*) for( .*\b(?:minutes?|hours?|half)) $"
)


def _fits(head: tuple[str, ...], when: Earlier) -> bool:
    """Beside a bird that only "is" somewhere a bare "at" opens a reading."""
    told = set(head)
    return (
        when.ago is not None or bool(told & _WENT) or ("birds" in told and bool(told & _ON_OR_OFF))
    )


@lru_cache(maxsize=64)
def _time(words: tuple[str, ...]) -> Earlier | None:
    readings = matcher_of(Names()).readings("earlier", words, Failure())
    values = (value for values in readings for value in values)
    slots = (value.value for value in values if isinstance(value, Slot))
    return next((one for one in slots if isinstance(one, Earlier)), None)


def dated(understood: Understood, when: Earlier) -> Understood:
    """The same facts, at the time told; refused where one of them is only ever of now."""
    if understood.outcome == "refuse" or only_asks(understood):
        return understood
    facts = tuple(
        replace(one, when=when) if isinstance(one, Datable) else one
        for one in understood.facts
        if isinstance(one, Datable | OpenReading)
    )
    options = tuple(
        replace(one, when=when) for one in understood.options if isinstance(one, Datable)
    )
    if (len(facts), len(options)) != (len(understood.facts), len(understood.options)):
        return Understood((), "refuse", help=AS_OF_NOW, cost=understood.cost)
    return replace(understood, facts=facts, options=options)


def undated(understood: Understood, words: tuple[str, ...]) -> Understood:
    """Refused where words tell of the past without saying how long ago, or of what is
    still to come."""
    is_refused = understood.outcome == "refuse"
    told = is_refused or any(isinstance(one, Datable) for one in understood.facts)
    if told and _READ & set(words) and _is_to_come(words):
        return Understood((), "refuse", help=NOT_YET, cost=understood.cost)
    if "ago" not in words or is_refused or only_asks(understood):
        return understood
    return Understood((), "refuse", help=HOW_LONG, cost=understood.cost)


def _is_to_come(words: tuple[str, ...]) -> bool:
    """Whether they end with "in five minutes"."""
    ins = (at for at, word in enumerate(words) if word == "in")
    return any(_time((*words[at + 1 :], "ago")) is not None for at in ins)


def only_asks(understood: Understood) -> bool:
    """Whether nothing would be recorded."""
    return all(one.NAME.startswith("ask_") for one in understood.facts)
