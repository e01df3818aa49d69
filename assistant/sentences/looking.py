"""A look: which birds are read at one open lid, and what for."""

from collections.abc import Sequence

from assistant.cook.rules.finish import spot_left
from assistant.cook.state import Cook
from assistant.cook.vocabulary.prompts import LookDue
from assistant.sentences.phrasing import birds, listed

_ALONE = {
    "first": "Time for a first reading of {birds}.",
    "sauce": "Read {birds}; the sauce may be near.",
    "done": "Read {birds}, breast and thigh; {it} may be near done.",
    "spread": "A reading of {birds} would settle a lot.",
}
_TOGETHER = {"sauce": "{birds} for sauce", "done": "{birds} breast and thigh"}


def looks(some: Sequence[LookDue], state: Cook) -> str:
    """One sentence for one open lid: "Read birds 1 and 2; the sauce may be near."."""
    left = {one.bird: spot_left(state.bird(one.bird)) for one in some if one.reason == "done"}
    if len(left) == len(some) and len(set(left.values())) == 1 and None not in left.values():
        return f"Read the {next(iter(left.values()))} of {birds(left)}."
    by_reason: dict[str, list[int]] = {}
    for one in some:
        by_reason.setdefault(one.reason, []).append(one.bird)
    if len(by_reason) == 1:
        reason, numbers = next(iter(by_reason.items()))
        it = "it" if len(numbers) == 1 else "they"
        return _ALONE.get(reason, "Read {birds}.").format(birds=birds(numbers), it=it)
    parts = (
        _TOGETHER.get(reason, "{birds}").format(birds=birds(numbers))
        for reason, numbers in sorted(by_reason.items(), key=lambda one: min(one[1]))
    )
    return f"One open lid: read {listed(parts)}."
