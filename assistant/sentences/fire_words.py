"""What is said about the fire: hedged, since a dial is no measurement, and relative, since
a handful and a vent are."""

from typing import Literal

from assistant.sentences.phrasing import span

HANDFUL = 6  # briquettes
ROUND_S = 300.0


def fire_word(
    action: Literal["add", "open", "close"], count: int, out_s: float, now_s: float
) -> str:
    """What the fire may do and what would help: "The fire may sag in about 25 minutes: a
    handful of charcoal now, or read the dial in ten." `out_s`: when it is out of its band."""
    ahead_s = ROUND_S * round((out_s - now_s) / ROUND_S)
    if ahead_s > ROUND_S:
        may = f"{'run hot' if action == 'close' else 'sag'} in about {span(ahead_s)}"
    else:
        may = "stay hot" if action == "close" else "stay low"
    return f"The fire may {may}: {_help(action, count)}, or read the dial in ten."


def _help(action: Literal["add", "open", "close"], count: int) -> str:
    match action:
        case "add":
            return f"{'a handful' if count <= HANDFUL else 'two handfuls'} of charcoal now"
        case "open":
            return "bottom vent a little further open"
        case "close":
            return "bottom vent a little further shut"
