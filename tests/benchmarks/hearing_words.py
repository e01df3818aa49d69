"""Rows of words by a grammar of others: drink orders by their slots, digits by their words."""

import json

from assistant.ears.ears import Ears
from tests.benchmarks.drink_slots import drink_slots
from tests.benchmarks.hearing_evidence import Tried
from tests.benchmarks.hearing_tally import rate


def words_cells(ears: Ears, heard: list[Tried]) -> tuple[str, ...]:
    """Exact, wrong, refused or asked about; the baseline's exact and wrong: as table cells."""
    exact = wrong = refused = plain_exact = plain_wrong = 0
    for one in heard:
        decided = one.decided(ears)
        is_right = same(decided.words, one.item.truth)
        exact += decided.outcome == "accept" and is_right
        wrong += decided.outcome == "accept" and not is_right
        refused += decided.outcome != "accept"
        plain_exact += same(one.plain, one.item.truth)
        plain_wrong += bool(one.plain) and not same(one.plain, one.item.truth)
    counts = (exact, wrong, refused, plain_exact, plain_wrong)
    return tuple(rate(count, len(heard)) for count in counts)


def same(words: str, truth: object) -> bool:
    """Whether the words say what was meant: the slots of an order, else the very words."""
    if isinstance(truth, str) and truth.startswith("{"):
        return drink_slots(words) == json.loads(truth)
    return words == truth
