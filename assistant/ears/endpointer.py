"""Where speech begins and ends in a recording: a voice-activity model."""

import numpy as np

from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.speech_chance import CHUNK, speech_chance

SURE, UNSURE = 0.5, 0.25
"""A recording where nobody surely speaks is looked through again for a voice in noise."""


def spoken_span(samples: Samples, margin_s: float = 0.25) -> slice:
    """From the first speech of a recording to the last, with a margin on both sides;
    empty when nobody speaks. One recording is one utterance, however long its pauses."""
    chance = speech_chance()
    padded = np.pad(samples, (0, -len(samples) % CHUNK))
    chances = [chance(chunk) for chunk in padded.reshape(-1, CHUNK)]
    most = max(chances, default=0.0)
    voiced = np.flatnonzero(np.array(chances) > (SURE if most > SURE else UNSURE))
    if len(voiced) == 0:
        return slice(0, 0)
    margin = int(margin_s * RATE_HZ)
    first, last = int(voiced[0]) * CHUNK, (int(voiced[-1]) + 1) * CHUNK
    return slice(max(0, first - margin), min(len(samples), last + margin))
