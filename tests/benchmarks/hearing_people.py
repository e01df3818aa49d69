"""What recorded people say, as long as it lasts: book readers, learners of English, orders for
a drink, numbers and audiobooks, one corpus after the other, in ten-minute tracks.

`NEVER_FITTED` are the people whom no listener was fitted on; `FITTED` the others.
"""

from collections.abc import Callable, Iterator
from functools import cache, partial

import numpy as np

from assistant.ears.endpointer import spoken_span
from assistant.sound.files import read_sound
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpora import MOST, human_talk
from tests.benchmarks.corpora_people import recorded
from tests.benchmarks.corpus import Wave, unit

NEVER_FITTED, FITTED = "people never fitted on", "people fitted on"
_BETWEEN_S = 0.9


def people_lines(source: str) -> Iterator[tuple[str, Wave]]:
    """Each recording's name and its speech, in one loudness."""
    development = source == FITTED
    said: list[tuple[str, Callable[[], Samples]]] = [
        (one.path.name, partial(read_sound, one.path))
        for corpus in ("readers", "nonnative", "an4")
        for one in recorded(corpus, development=development)
    ]
    said += [(item.key, item.make) for item in human_talk(MOST, development=development)]
    for name, make in said:
        sound = make()
        yield name, unit(sound[spoken_span(sound)].astype(float))


Spoken = tuple[Wave, tuple[tuple[float, str], ...]]
"""The speech of a track, and when each line of it begins."""


@cache
def people_tracks(source: str, track_s: int) -> tuple[Spoken, ...]:
    """Tracks of that length, filled up one after the other; the last one ends in silence."""
    tracks = []
    wave, lines, place = np.zeros(track_s * RATE_HZ, np.float32), list[tuple[float, str]](), RATE_HZ
    for name, speech in people_lines(source):
        if place + len(speech) > len(wave):
            tracks.append((wave, tuple(lines)))
            wave, lines, place = np.zeros(track_s * RATE_HZ, np.float32), [], RATE_HZ
        wave[place : place + len(speech)] += speech[: len(wave) - place]
        lines.append((place / RATE_HZ, name))
        place += len(speech) + round(_BETWEEN_S * RATE_HZ)
    end = min(len(wave), place)
    return (*tracks, (wave[:end], tuple(lines))) if lines else tuple(tracks)  # type: ignore[arg-type]
