"""The word that opens a sentence meant for the program: which may, and taking it off."""

import re
from functools import lru_cache

from assistant.cook.naming import claims
from assistant.grammar.grammar import ADDRESS, Names, vocabulary

_SAYABLE = re.compile(r"[a-z]{2,20}( [a-z]{2,20})?")
_FEWEST_LETTERS = 6
"""A word shorter than that is heard in ordinary talk all the time."""


def checked_address(word: object) -> str:
    """`word`, where it can open a sentence. Raises ValueError telling what is allowed."""
    if not isinstance(word, str) or not _SAYABLE.fullmatch(word):
        raise ValueError(f"{word!r} is not allowed; write one or two words in small letters")
    if len(word) < _FEWEST_LETTERS:
        raise ValueError(
            f"{word!r} is too short, talk would open with it all evening; take a longer one"
        )
    if claims(word) or word.split()[0] in vocabulary(Names()):
        raise ValueError(f"{word!r} opens a command already; take a word that none begins with")
    return word


def without_address(words: str, address: str = ADDRESS) -> str:
    """Typed words without the address word before them, where it is there."""
    opened = _opening(address).match(words)
    return words[opened.end() :] if opened else words


@lru_cache(maxsize=4)
def _opening(address: str) -> re.Pattern[str]:
    return re.compile(rf"\s*{re.escape(address)}\b[\s,]*", re.IGNORECASE)
