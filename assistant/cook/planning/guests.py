"""From people at the table to birds to buy. Pure.

Raw pounds a person: USDA FSIS prints 1 lb of whole turkey, 1/2 lb of a boneless piece and
1 to 1.5 lb of whole duck; for chicken the same 1 lb is taken, since a whole roasted
bird is only about half meat (USDA Handbook 102, "Food Yields"). A small hen is one
person's (common practice). Each is checked in tests/cook/test_guests.py.
"""

from collections.abc import Sequence
from math import ceil

from assistant.cook.kinds import kind_of
from assistant.cook.planning.before import KG_LB
from assistant.cook.planning.plan import PlannedBird

LB_A_PERSON = {"chicken": 1.0, "turkey": 1.0, "duck": 1.25, "roast": 0.5}
BIGGER = 1.1  # a bird this much above the usual is still easily had
MOST = 60  # at one table


def birds_for(guests: int, kind: str = "chicken") -> tuple[float, ...]:
    """Return the masses in kg of equal birds for that many people.

    Raises ValueError for nobody, or for more than a spit feeds.
    """
    if not 1 <= guests <= MOST:
        raise ValueError(f"{guests} at the table; plan for 1 to {MOST}")
    usual_kg = kind_of(kind).typical_kg
    if kind not in LB_A_PERSON:
        return (usual_kg,) * guests
    total_kg = guests * LB_A_PERSON[kind] * KG_LB
    count = ceil(total_kg / (BIGGER * usual_kg) - 1e-9)
    return (max(total_kg / count, 0.6 * usual_kg),) * count


def feeds(birds: Sequence[PlannedBird]) -> int:
    """Return how many people these birds feed by the published pounds."""
    people = 0.0
    for bird in birds:
        a_person = LB_A_PERSON.get(bird.kind)
        people += 1.0 if a_person is None else bird.mass_kg / KG_LB / a_person
    return int(people + 1e-6)
