"""Short, distinct tones: each is told apart by its melody, not only by its pitch.

heard: one soft high blip. unclear: two falling soft notes. convenient, soon
and now: one, two and four rising notes, the last loud. lost falls an octave,
back climbs one.
"""

from functools import cache

import numpy as np

from assistant.sound.samples import Sound
from assistant.voice.speech import Tone

TONE_RATE_HZ = 22_050
FADE_S = 0.008
GAP_S = 0.03
FULL_SCALE = 32_767

Note = tuple[float, float]  # hertz, seconds

MELODIES: dict[Tone, tuple[float, tuple[Note, ...]]] = {
    "heard": (0.16, ((1320.0, 0.07),)),
    "unclear": (0.14, ((587.0, 0.09), (440.0, 0.13))),
    "convenient": (0.20, ((784.0, 0.16),)),
    "soon": (0.28, ((784.0, 0.13), (1047.0, 0.18))),
    "now": (0.50, ((880.0, 0.10), (1175.0, 0.10), (880.0, 0.10), (1175.0, 0.22))),
    "lost": (0.30, ((880.0, 0.12), (440.0, 0.28))),
    "back": (0.22, ((440.0, 0.10), (880.0, 0.16))),
}
"""Tone to loudness (0 to 1) and notes."""


def _note(hertz: float, seconds: float) -> np.ndarray:
    time_s = np.arange(round(seconds * TONE_RATE_HZ)) / TONE_RATE_HZ
    # A little second harmonic carries over the hiss of a fire and a fan.
    wave = np.sin(2 * np.pi * hertz * time_s) + 0.25 * np.sin(4 * np.pi * hertz * time_s)
    fade = np.minimum(1.0, np.minimum(time_s, time_s[::-1]) / FADE_S)
    return wave * fade / 1.25


@cache
def tone_sound(tone: Tone) -> Sound:
    """The tone's samples; always the same object, so do not write into them."""
    loudness, notes = MELODIES[tone]
    gap = np.zeros(round(GAP_S * TONE_RATE_HZ))
    pieces: list[np.ndarray] = []
    for hertz, seconds in notes:
        pieces += [_note(hertz, seconds), gap]
    wave = np.concatenate(pieces[:-1])
    return Sound((loudness * FULL_SCALE * wave).astype(np.int16), TONE_RATE_HZ)
