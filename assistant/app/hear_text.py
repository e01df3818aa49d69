"""Typed lines to what they mean, one JSON-ready dict a line."""

import dataclasses
from collections.abc import Iterable, Iterator
from typing import Any

from assistant.cook.vocabulary.commands import Scale
from assistant.grammar.free.context import Context
from assistant.grammar.free.conversation import after
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import ADDRESS, strip_address


def tonight(birds: int, sauces: tuple[str, ...], scale: Scale = "F") -> Context:
    """The evening before anything was said: sauces to birds in order, the rest plain."""
    by_bird = {n: (sauces[n - 1] if n <= len(sauces) else "plain") for n in range(1, birds + 1)}
    return Context(birds, by_bird if sauces else {}, sauces, scale=scale)


def hear_text(lines: Iterable[str], context: Context) -> Iterator[dict[str, Any]]:
    """One dict for each utterance; a blank line begins another conversation."""
    here = context
    for raw in lines:
        text = raw.strip()
        if not text:
            here = context
            continue
        meant = strip_address(text.lower().replace(",", " ", 1), ADDRESS)
        understood = understand(meant if meant else text, here)
        here = after(here, understood)
        yield {
            "text": text,
            "outcome": understood.outcome,
            "asks": understood.question,
            "facts": [fact_json(fact) for fact in understood.facts],
            "help": understood.help,
            "cost": round(understood.cost, 2),
        }


def fact_json(fact: Fact) -> dict[str, Any]:
    """A fact's name and slots. A slot left unsaid that will be asked is null."""
    slots = dataclasses.asdict(fact)
    asked = {"bird_reading": "bird", "fuel_added": "count"}.get(fact.NAME)
    return {
        "command": fact.NAME,
        "slots": {
            name: value for name, value in slots.items() if value is not None or name == asked
        },
    }
