"""The cook's commands to be spoken: seeded, half of them readings, in all number forms."""

import random
from dataclasses import dataclass

from assistant.cook.commands import Command
from assistant.language.grammar import Names, command_names, random_sentence
from assistant.language.numbers import digits, long_form, short_form
from assistant.language.parse import parse

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
    """`count` sentences: four readings of birds, one of the grill, five of anything."""
    rng = random.Random(seed)
    spoken = []
    for n in range(count):
        place = n % 10
        words = reading(rng) if place < 4 else grill(rng) if place == 4 else anything(rng)
        spoken.append(Spoken(words, parse(words, TONIGHT), voices[n % len(voices)]))
    return spoken


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


def minimal_pairs(voices: tuple[str, ...], seed: int) -> list[Spoken]:
    """Every reading from 113 to 219 that has a sound-alike: teens and their tens."""
    rng = random.Random(seed)
    numbers = [
        base + n
        for base in (100, 200)
        for n in (*range(13, 20), *range(30, 100, 10))
        if base + n < 220
    ]
    spoken = []
    for n, number in enumerate(numbers):
        words = f"bird {rng.choice(['one', 'two', 'three'])} reads {short_form(number)}"
        spoken.append(Spoken(words, parse(words, TONIGHT), voices[n % len(voices)]))
    return spoken
