"""What people say who were never taught the phrases, and what they say to each other.

A small random grammar of spoken English around a roast (`free_speech.txt`): carriers ("ok
so", "could you"), contractions, birds by number, place, sauce or size, several facts in a
breath, repairs, and numbers in every way of saying them. It was written from how people talk,
not from the lines of any test; what a test says is left out by `sentences.py`.
"""

import random
import re
from collections.abc import Callable
from functools import cache
from pathlib import Path

from assistant.grammar.grammar import ADDRESS
from assistant.grammar.numbers import UNITS, below_hundred, digits, long_form, short_form
from tests.benchmarks.corpus_commands import EASILY_MIXED_UP

_SLOT = re.compile(r"\{(\w+)\}")
_WRITTEN = Path(__file__).with_suffix(".txt")


@cache
def rules() -> dict[str, list[str]]:
    """Every rule's alternatives."""
    lines = (line for line in _WRITTEN.read_text().splitlines() if not line.startswith("#"))
    joined = re.sub(r"\n +", " ", "\n".join(lines))
    pairs = (line.split(" = ", 1) for line in joined.splitlines() if line)
    return {name: [way.strip() for way in ways.split("|")] for name, ways in pairs}


_FACTS = (
    ("reading", 40), ("grill", 8), ("fuel", 11), ("wood", 2), ("lid", 5), ("vents", 5),
    ("on_off", 7), ("sauced", 5), ("weights", 5), ("serving", 6), ("timers", 7),
    ("questions", 9), ("repairs", 8), ("answers", 6), ("trouble", 6), ("resting", 5),
)  # fmt: skip
_BEFORE_NUMBERS = ("enter", "number", "it says", "dial", "make it")
_SHORTENED = (
    ("i am", "i'm"), ("i have", "i've"), ("we are", "we're"), ("they are", "they're"),
    ("it is", "it's"), ("that is", "that's"), ("we will", "we'll"), ("what is", "what's"),
    ("let us", "let's"), ("is not", "isn't"), ("we have", "we've"), ("she is", "she's"),
    ("there is", "there's"), ("he is", "he's"),
)  # fmt: skip


def _number(rng: random.Random, number: int) -> str:
    said = rng.choice([short_form, short_form, short_form, short_form, long_form, digits])(number)
    if "hundred" in said and rng.random() < 0.5:
        said = re.sub(r"hundred (?!and)", "hundred and ", said)
    return re.sub("^one hundred", "a hundred", said) if rng.random() < 0.4 else said


def _temperature(rng: random.Random) -> str:
    kind = rng.random()
    if kind < 0.3:
        return short_form(rng.choice(EASILY_MIXED_UP))
    said = _number(rng, rng.randint(38, 85) if kind < 0.42 else rng.randint(70, 215))
    if rng.random() < 0.07:
        said += f" point {rng.choice(UNITS[1:10])}"
    unit = " degrees" if rng.random() < 0.12 else ""
    if rng.random() < (0.3 if kind < 0.42 else 0.04):
        unit += rng.choice([" celsius", " fahrenheit", " c", " f", " centigrade"])
    return said + unit


_MADE: dict[str, Callable[[random.Random], str]] = {
    "t": _temperature,
    "t2": lambda rng: short_form(rng.randint(12, 199)),
    "g": lambda rng: _number(rng, rng.choice([rng.randint(200, 480), 10 * rng.randint(15, 48)])),
    "count": lambda rng: below_hundred(rng.choice([rng.randint(2, 12), rng.randint(2, 40)])),
    "mins": lambda rng: below_hundred(rng.choice([5, 10, 15, 20, 30, 45, rng.randint(2, 59)])),
    "s": lambda rng: rng.choice(["'s", "'s", " is"]),
}


def expanded(rng: random.Random, rule: str) -> str:
    """One random sentence of a rule."""
    if rule in _MADE:
        return _MADE[rule](rng)
    return _SLOT.sub(lambda m: expanded(rng, m[1]), rng.choice(rules()[rule]))


def free_speech(rng: random.Random) -> str:
    """Something for the program: one to three facts, with or without words around them."""
    kinds, shares = zip(*_FACTS, strict=True)
    count = rng.choices([1, 2, 3], [80, 16, 4])[0]
    facts = [expanded(rng, kind) for kind in rng.choices(kinds, shares, k=count)]
    if count > 1 and rng.random() < 0.5:
        facts = [expanded(rng, "reading") for _ in facts]
    words = rng.choice([" ", " and ", " "]).join(facts)
    if rng.random() < 0.12:
        words = f"{expanded(rng, 'carrier')} {words}"
    if rng.random() < 0.18:
        words = f"{expanded(rng, 'opener')} {words}"
    if rng.random() < 0.12:
        words = f"{words} {expanded(rng, 'tail')}"
    words = _shortened(rng, words)
    return f"{ADDRESS} {words}" if rng.random() < 0.6 else words


def free_talk(rng: random.Random) -> str:
    """Something said to somebody else."""
    return _shortened(rng, expanded(rng, "talk"))


def number_string(rng: random.Random) -> str:
    """A number by itself, in one of the ways of telephones, addresses, years and thermometers."""
    kind = rng.random()
    if kind < 0.3:
        said = short_form(rng.choice([*EASILY_MIXED_UP, *(n + 100 for n in EASILY_MIXED_UP)]))
    elif kind < 0.5:
        said = _number(rng, rng.randint(0, 999))
    elif kind < 0.78:
        zero = rng.choice(["zero", "oh"])
        spelt = (digits(rng.randint(0, 9)) for _ in range(rng.randint(2, 10)))
        said = " ".join(zero if word == "zero" else word for word in spelt)
    else:
        said = " ".join(below_hundred(rng.randint(0, 99)) for _ in range(rng.randint(1, 4)))
    return f"{rng.choice(_BEFORE_NUMBERS)} {said}" if rng.random() < 0.15 else said


def _shortened(rng: random.Random, words: str) -> str:
    if rng.random() < 0.25:
        return words
    for long, short in _SHORTENED:
        words = re.sub(rf"\b{long}\b", short, words)
    return words
