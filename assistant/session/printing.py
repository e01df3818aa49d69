"""Lines of a session as text for people, or as JSON for programs."""

import json
from collections.abc import Callable
from datetime import UTC, datetime
from typing import TextIO

from assistant.cook.rules.due import Load
from assistant.cook.vocabulary.codec import EVENTS
from assistant.session.line import Line

_TAGS = {"said": "says", "heard": "hears", "event": "notes", "refused": "missed",
         "forecast": "expects", "fire": "fire", "next_check": "look"}  # fmt: skip
EPOCH_S = 1e8  # larger slots in seconds are moments, smaller ones durations
_QUIET = {kind.NAME for kind in EVENTS.values() if not kind.SHOWN}


def json_text(line: Line) -> str:
    """One JSON object, as in the command-line contract."""
    return json.dumps({"t": line.t, "kind": line.kind, **line.fields}, ensure_ascii=False)


def plain_text(line: Line) -> str | None:
    """One line for people, None for what they need not see."""
    body = _body(line)
    return None if body is None else f"{hms(line.t)}  {_TAGS[line.kind]:<8}{body}"


def load_text(load: Load) -> str:
    """The count of what was said unasked, as a rehearsal's last line."""
    return (
        f"Said unasked: {load.sentences} sentences in {load.hours:.1f} h, {load.urgent} of them"
        f" urgent; {load.unforced_per_hour:.1f} unforced an hour,"
        f" at most {load.most_in_ten_min} in any 10 minutes."
    )


def hms(seconds: float) -> str:
    """Seconds as H:MM:SS."""
    whole = round(seconds)
    return f"{whole // 3600}:{whole // 60 % 60:02d}:{whole % 60:02d}"


def _body(line: Line) -> str | None:
    fields = line.fields
    match line.kind:
        case "said":
            urgency = "" if fields["urgency"] == "reply" else f"[{fields['urgency']}] "
            return f"{urgency}{fields['text']}"
        case "heard":
            return f'"{fields["words"]}"{_taken(fields)}'
        case "refused":
            return f'"{fields["words"]}": {fields["reason"]}'
        case "event":
            return None if fields["name"] in _QUIET else _event(fields)
        case "forecast":
            return f"bird {fields['bird']} at {fields['mark']} mark {_range(fields['quantiles'])}"
        case "fire":
            quantiles = fields["quantiles"]
            return "holds its band" if quantiles is None else f"leaves its band {_range(quantiles)}"
        case _:
            return f"at bird {fields['bird']} ({fields['reason']})"


def _taken(fields: dict[str, object]) -> str:
    """What the words were taken as, where they were the cook's own."""
    meaning, words = fields.get("meaning"), str(fields["words"])
    return f' = "{meaning}"' if isinstance(meaning, str) and words not in _short(meaning) else ""


def _short(meaning: str) -> tuple[str, ...]:
    """A sentence of the grammar, whole and without the scale that nobody says."""
    return meaning, meaning.removesuffix(" fahrenheit").removesuffix(" celsius")


def _event(fields: dict[str, object]) -> str:
    slots = fields["fields"]
    assert isinstance(slots, dict)
    shown = " ".join(
        f"{name}={_value(name, value)}" for name, value in slots.items() if name != "said"
    )
    return f"{fields['name']} {shown}".rstrip()


def _value(name: str, value: object) -> str:
    if name.endswith("_s") and isinstance(value, float) and value >= EPOCH_S:
        return f"{datetime.fromtimestamp(value, UTC):%Y-%m-%dT%H:%MZ}"
    return f"{value:.4g}" if isinstance(value, float) else str(value)


def _range(quantiles: object) -> str:
    assert isinstance(quantiles, dict)
    low, middle, high = (quantiles[name] for name in ("0.1", "0.5", "0.9"))
    text = [hms(one) if one is not None else "never" for one in (low, middle, high)]
    return f"{text[1]} ({text[0]} to {text[2]})"


def printer(stream: TextIO, *, as_json: bool) -> Callable[[Line], None]:
    """Prints each line to `stream`, flushed, so that what was read back is seen."""

    def show(line: Line) -> None:
        text = json_text(line) if as_json else plain_text(line)
        if text is not None:
            print(text, file=stream, flush=True)

    return show
