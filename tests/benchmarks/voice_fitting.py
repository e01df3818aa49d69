"""What a voice fitting is worth to the first listener: `python -m tests.benchmarks.voice_fitting`.

Voices of other sizes (every frequency times the size: children, deep men), accents and
usual voices read the dozen phrases; then other sentences are decoded in that voice, clean,
with the model as it came and bent. No second listener. Exact of n, plain and cleaned.
"""

import argparse

import numpy as np
import soxr

from assistant.ears.denoise import denoised
from assistant.ears.heard import RATE_HZ, Samples
from assistant.ears.speech_end import spoken_span
from assistant.ears.sphinx import Sphinx, fitted_to_cleaned_sound
from assistant.ears.voice_fit import PHRASES, fit
from assistant.language.grammar import pronunciations
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import say
from tests.benchmarks.corpus_commands import Spoken, commands
from tests.benchmarks.hearing_fronts import QUICK, cook_network, is_right

SPEAKERS = (
    ("slt", 1.15), ("rms", 1.2), ("awb", 0.82), ("en-gb-scotland+m3", 1.0), ("en-gb", 1.0),
    ("slt", 1.0), ("rms", 1.0),
)  # fmt: skip


def spoken(words: str, voice: str, size: float) -> Samples:
    """The words by a speaker of that size, from first speech to last."""
    said = say(words, voice)
    if size != 1.0:
        said = soxr.resample(said.astype(np.float32), RATE_HZ * size, RATE_HZ).astype(np.int16)
    return said[spoken_span(said)]


def right(sphinx: Sphinx, sounds: list[Samples], said: list[Spoken]) -> int:
    """How many are heard exactly."""
    heard = [sphinx.recognise(sound, with_ratio=False) for sound in sounds]
    return sum(
        bool(found) and is_right(found[0].words, one.command)
        for found, one in zip(heard, said, strict=True)
    )


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=20, help="sentences a speaker")
    count = parser.parse_args().count
    network = cook_network(asked=True)
    plain = Sphinx(network, pronunciations(), QUICK)
    careful = Sphinx(network, pronunciations(), fitted_to_cleaned_sound())
    print("| speaker | size | factor | gain | n | plain | bent | cleaned | bent |")
    print("|---|---|---|---|---|---|---|---|---|")
    for voice, size in SPEAKERS:
        made = fit([(spoken(phrase, voice, size), phrase) for phrase in PHRASES])
        said = commands(count, (voice,), DEVELOPMENT + 1)
        sounds = [spoken(one.words, voice, size) for one in said]
        cells = []
        for sphinx, heard in ((plain, sounds), (careful, [denoised(s) for s in sounds])):
            for factor in (1.0, made.warp):
                sphinx.warp(factor)
                cells.append(str(right(sphinx, heard, said)))
        row = [voice, str(size), f"{made.warp:.2f}", str(made.gain), str(count), *cells]
        print(f"| {' | '.join(row)} |", flush=True)


if __name__ == "__main__":
    main()
