"""People who speak in the training: the halves of the recordings that no benchmark reports on."""

import json
from collections.abc import Iterator
from pathlib import Path

from assistant.ears.ears import Ears
from assistant.ears.endpointer import spoken_span
from assistant.sound.files import read_sound
from assistant.sound.samples import RATE_HZ
from tests.benchmarks import corpora
from tests.benchmarks.corpora_people import Recorded, recorded
from tests.benchmarks.drink_slots import drink_slots
from tests.fitting.voices import Example, write_examples, write_wave

WEIGHTS = {"an4": 7.0, "coffee": 1.5, "readers": 1.5, "nonnative": 1.5}
LONGEST_S = 8.5


def make_people(folder: Path) -> list[Example]:
    """Keep what they say, as `voices.py` does for voices."""
    folder.mkdir(parents=True, exist_ok=True)
    said = []
    for n, one in enumerate([*_orders(), *_others()]):
        samples = read_sound(one.path)
        samples = samples[spoken_span(samples)]
        if 0 < len(samples) < LONGEST_S * RATE_HZ:
            file = f"human-{n:04d}.flac"
            write_wave(folder / file, samples)
            said.append(Example(file, one.words, "human", WEIGHTS[one.corpus]))
    write_examples(folder / "human.jsonl", said)
    return said


def _others() -> Iterator[Recorded]:
    for corpus in ("an4", "readers", "nonnative"):
        yield from (one for one in recorded(corpus, development=True) if one.words)


def _orders() -> Iterator[Recorded]:
    """The development drink orders that the listener, as it comes, hears rightly: their
    words are known only by their slots, so the words heard are taken."""
    orders = corpora.orders(200, development=True)
    if not orders:
        return
    ears = Ears(jsgf=corpora.DRINKS.read_text(), is_fitted=False)
    for order in orders:
        samples = order.make()
        words = ears.hear(samples[spoken_span(samples)]).words
        if drink_slots(words) == json.loads(order.truth):  # type: ignore[arg-type]
            name = order.key.removeprefix("order ")
            yield Recorded(corpora.RECORDINGS / "coffee" / name, words, name, "coffee")
    ears.close()
