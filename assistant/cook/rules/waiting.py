"""What a bird waits for: one answer for the board, the prompts and the spoken replies. Pure.

The coldest spot decides: with a breast at 134 F and a thigh at 120 F the bird still waits
for its sauce mark.
"""

from assistant.cook.state import Bird
from assistant.cook.vocabulary.commands import Mark


def needs_no_sauce(bird: Bird) -> bool:
    """Return whether the bird stays plain or has had its sauce."""
    return bird.is_plain or bool(bird.sauced_s)


def is_at_sauce_mark(bird: Bird) -> bool:
    """Return whether the coldest spot has read the sauce mark."""
    coldest_f = bird.coldest_f()
    return coldest_f is not None and coldest_f >= bird.sauce_mark_f


def sauce_is_due(bird: Bird) -> bool:
    """Return whether the bird has read its sauce mark and its named sauce is not on."""
    return bird.sauce is not None and not needs_no_sauce(bird) and is_at_sauce_mark(bird)


def next_mark(bird: Bird) -> Mark:
    """Return the mark that the bird has still to read."""
    return "done" if needs_no_sauce(bird) or is_at_sauce_mark(bird) else "sauce"
