"""Words that sound alike, or whose mix-up is costly: candidates no recogniser may have offered."""

from collections.abc import Callable, Iterator

_TEENS = {
    "thirteen": "thirty", "fourteen": "forty", "fifteen": "fifty", "sixteen": "sixty",
    "seventeen": "seventy", "eighteen": "eighty", "nineteen": "ninety",
}  # fmt: skip
_ALIKE = {
    **_TEENS, **{ty: teen for teen, ty in _TEENS.items()},
    "on": "off", "off": "on", "yes": "no", "no": "yes",
}  # fmt: skip
_PAIRS = {"fifty": "sixty", "sixty": "fifty", "fifteen": "sixteen", "sixteen": "fifteen"}
_UNITS = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine")
_TYS = frozenset(_TEENS.values()) | {"twenty"}
_TENS = frozenset(_TEENS) | _TYS


_SMALL = frozenset({"zero", "oh", "ten", "eleven", "twelve", "hundred", "thousand", *_UNITS})


def numbers_of(words: str) -> tuple[str, ...]:
    """The words of numbers in a sentence."""
    return tuple(word for word in words.split() if word in _SMALL or word in _TENS)


def neighbours(words: str, accepts: Callable[[str], bool]) -> tuple[str, ...]:
    """Sentences the grammar accepts that differ from `words` in one easily misheard
    number (teen for ty, fifty for sixty, a unit too many after a round ten) or say its
    opposite: off for on, no for yes."""
    said = words.split()
    found = dict.fromkeys(" ".join(other) for other in _changed(said))
    return tuple(other for other in found if other != words and accepts(other))


def _changed(said: list[str]) -> Iterator[list[str]]:
    for n, word in enumerate(said):
        after = said[n + 1] if n + 1 < len(said) else ""
        for other in filter(None, (_ALIKE.get(word), _PAIRS.get(word))):
            yield [*said[:n], other, *said[n + 1 :]]
        if word in _TYS and after in _UNITS:
            yield said[: n + 1] + said[n + 2 :]
            if word in _ALIKE:
                yield [*said[:n], _ALIKE[word], *said[n + 2 :]]
