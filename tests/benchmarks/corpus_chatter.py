"""Hours of invented table talk: sentences made from templates, seeded.

Household, garden, sports, family, food, numbers and times. A third of the templates are
near misses that share words with commands, and one sentence in fifty holds the address
word in its other sense. Every second template is for the TEST seed alone: what a listener
may have been fitted on (any other seed) is built differently.
"""

import random
import re
from collections.abc import Iterator

from assistant.grammar.numbers import short_form
from tests.benchmarks.chatter_words import ADDRESSED, NEAR_MISSES, PLAIN, SLOTS

NEAR_SHARE, ADDRESS_SHARE = 0.35, 0.02
HELD_OUT_SEED = 11  # TEST in corpora.py

_SLOT = re.compile(r"\{(\w+)\}")


def chatter(seed: int) -> Iterator[str]:
    """Sentences without end, none twice."""
    chance = random.Random(seed)
    held_out = seed == HELD_OUT_SEED
    kinds = [_part(templates, held_out=held_out) for templates in (PLAIN, NEAR_MISSES, ADDRESSED)]
    shares = (1.0 - NEAR_SHARE - ADDRESS_SHARE, NEAR_SHARE, ADDRESS_SHARE)
    said: set[str] = set()
    while True:
        (templates,) = chance.choices(kinds, shares)
        words = _filled(chance.choice(templates), chance)
        if words not in said:
            said.add(words)
            yield words


def _part(templates: tuple[str, ...], *, held_out: bool) -> tuple[str, ...]:
    return templates[1::2] if held_out else templates[0::2]


def _filled(template: str, chance: random.Random) -> str:
    """The template with every slot filled; a slot may hold slots."""
    while slot := _SLOT.search(template):
        template = template[: slot.start()] + _word(slot[1], chance) + template[slot.end() :]
    return re.sub(r"\ba (?=[aeiou])", "an ", template)


def _word(slot: str, chance: random.Random) -> str:
    if slot == "number":
        return short_form(chance.randint(2, 59))
    if slot == "big":
        return short_form(chance.randint(100, 420))
    if slot == "clock":
        return f"{short_form(chance.randint(1, 12))} {chance.choice(SLOTS['minute'])}".strip()
    return chance.choice(SLOTS[slot])
