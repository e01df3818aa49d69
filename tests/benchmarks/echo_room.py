"""A loudspeaker, a mouth and a microphone in one simulated place (image method).

What the microphone gets: the program's own voice through the loudspeaker and the room, from
a sound card whose clock differs by some parts in a million, an unknown time late; the cook's
voice through the room; and the noise of a fire.
"""

from dataclasses import dataclass
from functools import cache

import numpy as np
import pyroomacoustics
import soxr

from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus import Wave, pink

SPEECH_RMS = 1500.0  # of the cook at the microphone
OVERDRIVE = 60_000.0  # of samples: a small cone gives 2 to 3 % of third harmonic at its loudest


@dataclass(frozen=True, slots=True)
class Place:
    """Metres, and the share of sound energy that its surfaces take."""

    name: str
    size_m: tuple[float, float, float]
    absorbs: float
    speaker_m: tuple[float, float, float]
    microphone_m: tuple[float, float, float]
    mouth_m: tuple[float, float, float]


TERRACE = Place("terrace", (8, 6, 3.5), 0.55, (2.0, 2.2, 1.0), (2.5, 2.2, 1.0), (3.2, 3.0, 1.6))
KITCHEN = Place("kitchen", (5, 4, 2.5), 0.25, (1.2, 1.0, 1.0), (1.5, 1.3, 1.0), (2.3, 2.2, 1.6))
PLACES = (TERRACE, KITCHEN)


@cache
def responses(place: Place) -> tuple[Wave, Wave]:
    """Impulse responses from the loudspeaker and from the mouth to the microphone."""
    room = pyroomacoustics.ShoeBox(
        list(place.size_m),
        fs=RATE_HZ,
        materials=pyroomacoustics.Material(place.absorbs),
        max_order=14,
    )
    room.add_source(list(place.speaker_m))
    room.add_source(list(place.mouth_m))
    room.add_microphone(list(place.microphone_m))
    room.compute_rir()
    own, mouth = room.rir[0]
    return np.asarray(own, float), np.asarray(mouth, float)


def through(wave: Wave, response: Wave) -> Wave:
    """The wave as it arrives."""
    return np.convolve(wave, response)[: len(wave)]


def loud_rms(wave: Wave) -> float:
    """Root mean square where it sounds: its silences do not count."""
    loud = wave[np.abs(wave) > 0.05 * np.max(np.abs(wave), initial=1e-9)]
    return max(1e-9, float(np.sqrt(np.mean(loud**2))) if loud.size else 1.0)


def of_level(wave: Wave, rms: float) -> Wave:
    """The wave at this level where it sounds."""
    return wave * (rms / loud_rms(wave))


@dataclass(frozen=True, slots=True)
class Path:
    """How the program's own voice reaches the microphone. `over_db`: louder than the
    cook there; `late_s`: after it is said to have been played; `drift_ppm`: the
    loudspeaker's clock against the microphone's."""

    place: Place = TERRACE
    over_db: float = 0.0
    late_s: float = 0.045
    drift_ppm: float = 80.0

    def echo(self, played: Samples, at_full: Samples | None = None) -> Wave:
        """The own voice at the microphone, as long as `played`. `at_full`: what was to be
        played, where some of it was turned down: that has the level."""
        arrived = self._arrived(played)
        full = arrived if at_full is None else self._arrived(at_full)
        return arrived * (SPEECH_RMS * 10 ** (self.over_db / 20) / loud_rms(full))

    def _arrived(self, played: Samples) -> Wave:
        driven = OVERDRIVE * np.tanh(played.astype(float) / OVERDRIVE)
        if self.drift_ppm:
            driven = soxr.resample(driven, RATE_HZ * (1 + self.drift_ppm * 1e-6), RATE_HZ, "VHQ")
        late = np.pad(driven, (round(self.late_s * RATE_HZ), 0))
        late = np.pad(late, (0, max(0, len(played) - len(late))))[: len(played)]
        return through(late, responses(self.place)[0])

    def voice(self, spoken: Samples) -> Wave:
        """The cook at the microphone."""
        return of_level(through(spoken.astype(float), responses(self.place)[1]), SPEECH_RMS)


def fire(length: int, below_db: float, seed: int) -> Wave:
    """Steady noise so far below the cook."""
    return pink(length, np.random.default_rng(seed)) * SPEECH_RMS * 10 ** (-below_db / 20)


def heard(*waves: Wave) -> Samples:
    """All of it at the microphone."""
    return np.clip(np.round(sum(waves)), -32768, 32767).astype(np.int16)
