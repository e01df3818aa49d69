"""The cook's commands to be spoken: seeded, half of them readings, in all number forms."""

import random
from collections.abc import Iterable
from dataclasses import dataclass

from assistant.cook.vocabulary.commands import Command
from assistant.grammar.grammar import Names, command_names, random_sentence
from assistant.grammar.numbers import digits, long_form, short_form
from assistant.grammar.parse import parse

TONIGHT = Names(birds=3, sauces=("apricot", "harissa"))

_OPENINGS = (
    "bird {bird} reads {number}", "bird {bird} {number}", "bird {bird} {spot} {number}",
    "probe reads {number} on bird {bird}", "bird {bird} is at {number} degrees",
)  # fmt: skip


@dataclass(frozen=True)
class Spoken:
    """A sentence to be said, and the command it means."""

    words: str
    command: Command
    voice: str


def commands(count: int, voices: tuple[str, ...], seed: int) -> list[Spoken]:
    """`count` different sentences: four readings of birds, one of the grill, five of anything."""
    rng = random.Random(seed)
    said: dict[str, None] = {}
    while len(said) < count:
        place = len(said) % 10
        make = reading if place < 4 else grill if place == 4 else anything
        said.setdefault(make(rng))
    return _by_voices(said, voices)


def _by_voices(said: Iterable[str], voices: tuple[str, ...]) -> list[Spoken]:
    return [
        Spoken(words, parse(words, TONIGHT), _in_turn(voices, n)) for n, words in enumerate(said)
    ]


def _in_turn(voices: tuple[str, ...], n: int) -> str:
    """Each voice in turn, one further every ten, so that each says every kind of sentence."""
    return voices[(n + n // 10) % len(voices)]


def reading(rng: random.Random) -> str:
    """A bird's reading as cooks say it."""
    number = spell(rng, rng.randint(70, 199))
    bird = rng.choice(["one", "two", "three"])
    spot = rng.choice(["breast", "thigh"])
    return rng.choice(_OPENINGS).format(bird=bird, spot=spot, number=number)


def grill(rng: random.Random) -> str:
    """A reading of the grill."""
    opening = rng.choice(["grill is", "grill reads", "the grill is at"])
    return f"{opening} {spell(rng, rng.randint(200, 450))}"


def anything(rng: random.Random) -> str:
    """A sentence of any other command, by the grammar recognisers listen with."""
    name = rng.choice([c for c in command_names() if c not in ("bird_reading", "grill_reading")])
    return random_sentence(rng, TONIGHT, command=name, lean=True)


def spell(rng: random.Random, number: int) -> str:
    """Mostly "one thirty", now and then "one hundred and thirty" or "one three zero"."""
    form = rng.choice([short_form, short_form, short_form, long_form, digits])
    return form(number)


def minimal_pairs(count: int, voices: tuple[str, ...], seed: int) -> list[Spoken]:
    """`count` readings from 113 to 219, each of which one misheard syllable turns into
    another: teens and their tens, fifty and sixty, a unit more or less after a ten."""
    rng = random.Random(seed)
    said: list[str] = []
    birds = dict.fromkeys(EASILY_MIXED_UP, 0)
    while len(said) < count:
        for number in rng.sample(EASILY_MIXED_UP, len(EASILY_MIXED_UP)):
            bird = ("one", "two", "three")[(number + birds[number]) % 3]
            birds[number] += 1
            said.append(f"bird {bird} reads {short_form(number)}")
    return _by_voices(said[:count], voices)


_TEENS_AND_TENS = (*range(113, 120), *range(130, 200, 10), *range(213, 220))
_WITH_UNIT = (*range(133, 200, 11), 135, 156, 158, 165, 168, 185)
EASILY_MIXED_UP = (*_TEENS_AND_TENS, *_WITH_UNIT)
"""The numbers of the minimal pairs, four in ten with a unit after the ten."""
