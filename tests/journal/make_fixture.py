"""Keep a journal of this format: python -m tests.journal.make_fixture

Run it once when the format or an event changes, before that is released, and
never over a journal that was released: those must open for ever.
"""

import sys
import tempfile
from dataclasses import MISSING, fields
from pathlib import Path
from typing import Any, get_args

from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.commands import BirdReading, Said, Undo
from assistant.journal import jsonl
from assistant.journal.database import SCHEMA
from assistant.journal.store import Journal

FIXTURES = Path(__file__).parent / "fixtures"
BEGAN_S = 1_760_000_000.0

# A value for every slot that has no default, by its name.
_SLOTS: dict[str, Any] = {
    "bird": 1, "temperature": 118.5, "said": Said(118.5, "F"), "mass_kg": 2.72,
    "sauce": "apricot", "count": 12.0, "which": "bottom", "opening": 0.5,
    "serve_s": BEGAN_S + 7200.0, "due_s": BEGAN_S + 600.0, "minutes": 10.0, "number": 1,
    "key": "look:1:0", "urgency": "soon", "keys": ("look:1:0",), "until_s": BEGAN_S + 300.0,
    "options": (BirdReading(2, 113.0, Said(45.0, "C"), "breast"), Undo()), "why": "teen_or_ty",
    "answer": "yes", "target": 3, "kind": "flare_up", "item": 0, "bath": "ice",
    "correction_f": -1.5, "step": -1, "words": "bird one reads one thirteen",
    "confidence": 0.75, "outcome": "accept", "away_s": 61.5, "side": "left",
    "skin": "off",
}  # fmt: skip


def every_event() -> list[ev.Event]:
    """One of every kind of event, in the order of their definition."""
    return [
        kind(**{one.name: _SLOTS[one.name] for one in fields(kind) if one.default is MISSING})
        for kind in get_args(ev.Event)
    ]


def make(folder: Path) -> None:
    """Write the journal and its export."""
    path = folder / f"journal-{SCHEMA}.db"
    with tempfile.TemporaryDirectory() as temporary:
        beside = Path(temporary) / path.name
        with Journal(beside, at_s=BEGAN_S) as journal:
            cook = journal.begin("family dinner", BEGAN_S, "0123456789abcdef0123456789abcdef")
            for minute, event in enumerate(every_event()):
                journal.append(cook, BEGAN_S + 60.0 * minute, [event])
            journal.set_note(cook, "the harissa one went first")
            journal.set_setting("holder", {"pid": 1, "since_s": BEGAN_S})
            journal.set_setting("kitchen", {"cooks": 1, "shift": [["grill", 0.1, 0.2]]})
            jsonl.export(journal, [journal.find(cook)], path.with_suffix(".jsonl"))
        path.write_bytes(beside.read_bytes())


if __name__ == "__main__":
    FIXTURES.mkdir(exist_ok=True)
    make(FIXTURES)
    sys.exit(0)
