"""What fitting to one cook's voice would be worth: `python -m tests.benchmarks.voice_fitting`.

Voices of other sizes (every frequency times the size: children, deep men), accents and
usual voices read a dozen phrases; from them the first listener learns by how much to bend
the frequency axis, the factor under which what was read is likeliest (Lee and Rose 1996,
"Speaker normalization using efficient frequency warping procedures"). Then other sentences
are heard in that voice, clean: by the first listener with the model as it came and bent, on
the plain and the cleaned sound, and by the second listener, fitted to no voice. Exact of n.
The product fits to no voice: the last column says why.
"""

import argparse
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
import soxr

from assistant.ears.endpointer import spoken_span
from assistant.ears.prepared import for_cook
from assistant.ears.sphinx.decoder import Sphinx, fitted_to_cleaned_sound
from assistant.ears.sphinx.denoise import denoised
from assistant.ears.whisper.rescorer import Judge
from assistant.grammar.grammar import ADDRESS, pronunciations
from assistant.grammar.network import Network
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import say
from tests.benchmarks.corpus_commands import TONIGHT, commands
from tests.benchmarks.hearing_fronts import QUICK, cook_network, is_right

SPEAKERS = (
    ("slt", 1.15), ("rms", 1.2), ("awb", 0.82), ("en-gb-scotland+m3", 1.0), ("en-gb", 1.0),
    ("slt", 1.0), ("rms", 1.0),
)  # fmt: skip

PHRASES = (
    "bird one reads one forty seven",
    "the grill is at three hundred and sixty",
    "bird three breast ninety five",
    "sauced bird two",
    "added fifteen briquettes",
    "remind me in twenty minutes",
    "probe reads one sixteen on bird one",
    "lid off",
    "how long for bird three",
    "dinner at half past seven",
    "bird two thigh one eighty eight",
    "what's next",
)
"""What the speaker reads: commands with most vowels and with numbers easily mixed up."""

FACTORS = (0.76, 0.82, 0.88, 0.94, 1.0, 1.06, 1.12, 1.18, 1.24, 1.30)
UNBENT = FACTORS.index(1.0)
LEAST_GAIN = 4.0
"""Log-likelihood a phrase must gain, in nats, before the model is not left as it came."""

COLUMNS = ("plain", "bent", "cleaned", "bent", "second listener, no fitting")


@dataclass(frozen=True)
class VoiceFit:
    """By how much to bend, and the nats that a phrase gained by it."""

    factor: float
    gain: float


def spoken(words: str, voice: str, size: float) -> Samples:
    """The words by a speaker of that size, from first speech to last."""
    said = say(words, voice)
    if size != 1.0:
        said = soxr.resample(said.astype(np.float32), RATE_HZ * size, RATE_HZ).astype(np.int16)
    return said[spoken_span(said)]


def bent(factor: float) -> Mapping[str, str]:
    """PocketSphinx's settings for frequencies bent by the factor: above 1 for a shorter
    vocal tract than the model's speakers have, below it for a longer one.

    1 has to be said too: PocketSphinx keeps the factor for the whole process, and takes one
    that was left out and then given again for left out."""
    return {"warp_type": "inverse_linear", "warp_params": str(factor)}


def fits() -> list[VoiceFit]:
    """The likeliest factor of every speaker, from the phrases read. The factors come
    outermost, so that each decoder is made once."""
    words = sorted({word for phrase in PHRASES for word in phrase.split()})
    nothing = Network((dict.fromkeys(words, 1), {}), frozenset([1]))
    read = [[spoken(phrase, *speaker) for phrase in PHRASES] for speaker in SPEAKERS]
    scores = np.empty((len(FACTORS), len(SPEAKERS), len(PHRASES)))
    for f, factor in enumerate(FACTORS):
        sphinx = Sphinx(nothing, pronunciations(), bent(factor))
        for s, sounds in enumerate(read):
            found = [sphinx.score(*one) for one in zip(sounds, PHRASES, strict=True)]
            scores[f, s] = [np.nan if score is None else score for score in found]
    return [_likeliest(scores[:, s]) for s in range(len(SPEAKERS))]


def _likeliest(scores: np.ndarray) -> VoiceFit:
    """From (factors, phrases) log-likelihoods; a phrase counts that fits under all factors."""
    means = scores[:, ~np.isnan(scores).any(axis=0)].mean(axis=1)
    best = int(means.argmax())
    gain = float(means[best] - means[UNBENT])
    return VoiceFit(FACTORS[best], gain) if gain >= LEAST_GAIN else VoiceFit(1.0, 0.0)


def heard_by_first(
    network: Network, settings: Mapping[str, object], sounds: Sequence[Samples]
) -> list[str]:
    """What the first listener hears, with these settings of PocketSphinx."""
    sphinx = Sphinx(network, pronunciations(), settings)
    found = [sphinx.recognise(sound, with_ratio=False) for sound in sounds]
    return [one[0].words if one else "" for one in found]


def heard_by_second(judge: Judge, sounds: Sequence[Samples]) -> list[str]:
    """The second listener's first sentences."""
    found = [judge.listen(sound) for sound in sounds]
    return [one[0].words if one else "" for one in found]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=20, help="sentences a speaker")
    count = parser.parse_args().count
    network = cook_network(asked=True)
    judge = Judge(for_cook(TONIGHT, "F", ADDRESS).network)
    print(f"| speaker | size | factor | gain | n | {' | '.join(COLUMNS)} |")
    print("|---" * (5 + len(COLUMNS)) + "|")
    total = np.zeros(len(COLUMNS), int)
    for (voice, size), made in zip(SPEAKERS, fits(), strict=True):
        said = commands(count, (voice,), DEVELOPMENT + 1)
        plain = [spoken(one.words, voice, size) for one in said]
        cleaned = [denoised(sound) for sound in plain]
        fitted = fitted_to_cleaned_sound()
        heard = (
            heard_by_first(network, {**QUICK, **bent(1.0)}, plain),
            heard_by_first(network, {**QUICK, **bent(made.factor)}, plain),
            heard_by_first(network, {**fitted, **bent(1.0)}, cleaned),
            heard_by_first(network, {**fitted, **bent(made.factor)}, cleaned),
            heard_by_second(judge, plain),
        )
        right = [
            sum(is_right(words, one.command) for words, one in zip(row, said, strict=True))
            for row in heard
        ]
        total += right
        cells = [voice, size, f"{made.factor:.2f}", f"{made.gain:.1f}", count, *right]
        print(f"| {' | '.join(map(str, cells))} |", flush=True)
    print(f"| all | | | | {count * len(SPEAKERS)} | {' | '.join(map(str, total))} |")


if __name__ == "__main__":
    main()
