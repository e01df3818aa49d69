"""Typed lines to what they mean, one JSON-ready dict a line."""

from collections.abc import Iterable, Iterator
from typing import Any

from assistant.grammar.address import without_address
from assistant.grammar.free.context import Context
from assistant.grammar.free.conversation import after
from assistant.grammar.free.open_facts import fact_json
from assistant.grammar.free.understand import understand


def hear_text(lines: Iterable[str], context: Context) -> Iterator[dict[str, Any]]:
    """One dict for each utterance; a blank line begins another conversation."""
    here = context
    for raw in lines:
        text = raw.strip()
        if not text:
            here = context
            continue
        understood = understand(without_address(text) or text, here)
        here = after(here, understood)
        yield {
            "text": text,
            "outcome": understood.outcome,
            "asks": understood.question,
            "facts": [fact_json(fact) for fact in understood.facts],
            "help": understood.help,
            "cost": round(understood.cost, 2),
        }
