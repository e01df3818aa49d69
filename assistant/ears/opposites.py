"""Commands whose mix-up costs a cook most, though they sound nearly alike."""

from dataclasses import asdict
from typing import Any

from assistant.cook.vocabulary.commands import Command

_PAIRS = (
    frozenset({"lid_off", "lid_on"}), frozenset({"birds_on", "birds_off"}),
    frozenset({"yes", "no"}),
)  # fmt: skip


def are_opposite(one: Command, other: Command) -> bool:
    """Lid off and on, birds on and off, yes and no; and the same fact with a teen for its
    ten, like seventeen for seventy."""
    if one.NAME != other.NAME:
        return frozenset({one.NAME, other.NAME}) in _PAIRS
    before, after = _numbers(asdict(one)), _numbers(asdict(other))
    if before.keys() != after.keys():
        return False
    changed = [(before[slot], after[slot]) for slot in before if before[slot] != after[slot]]
    return bool(changed) and all(_is_teen_for_ty(*pair) for pair in changed)


def _numbers(slots: dict[str, Any]) -> dict[str, Any]:
    """The slots, with the number that was spoken in place of what it comes to in F."""
    said = slots.pop("said", None)
    return {**slots, "temperature": said["number"]} if said else slots


def _is_teen_for_ty(one: object, other: object) -> bool:
    if not isinstance(one, int | float) or not isinstance(other, int | float):
        return False
    teen, ty = sorted((one, other))
    return teen // 100 == ty // 100 and 13 <= teen % 100 <= 19 and ty % 100 == teen % 10 * 10
