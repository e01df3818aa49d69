"""What a session puts out: one line for each thing that happened."""

from dataclasses import dataclass, field

from assistant.cook.vocabulary.codec import command_json
from assistant.ears.heard import Heard
from assistant.grammar.sayback import say_back


@dataclass(frozen=True, slots=True)
class Line:
    """One thing that happened. `t`: seconds since the cook began; `kind` and
    `fields` as in the command-line contract."""

    t: float
    kind: str
    fields: dict[str, object] = field(default_factory=dict)


def heard_line(t: float, heard: Heard) -> Line:
    """The line of an utterance: its words, and what they were taken to mean."""
    command, slots = command_json(heard.command) if heard.command else (None, {})
    return Line(t, "heard", {
        "words": heard.words, "command": command, "slots": slots,
        "confidence": round(heard.confidence, 4),
        "meaning": say_back(heard.command) if heard.command else None,
    })  # fmt: skip
