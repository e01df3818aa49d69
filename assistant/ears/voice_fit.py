"""Fitting the first listener to one cook's voice: how far its frequencies are bent.

A child's or a very deep voice has its resonances elsewhere than the speakers whom
PocketSphinx learned from; bending the frequency axis brings them back (Lee and Rose 1996,
"Speaker normalization using efficient frequency warping procedures"). The factor is the
one under which a dozen phrases, read from a list, are likeliest.
"""

import json
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path

from assistant.ears.heard import Samples
from assistant.ears.network import Network
from assistant.ears.sphinx import Sphinx
from assistant.language.grammar import pronunciations
from assistant.places import data_folder

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
"""What the cook reads: commands with most vowels and with numbers easily mixed up."""

FACTORS = (0.76, 0.82, 0.88, 0.94, 1.0, 1.06, 1.12, 1.18, 1.24, 1.30)
LEAST_GAIN = 4.0
"""Log-likelihood a phrase must gain, in nats, before the model is not left as it came."""

STRANGE_RATIO = -2.5
"""Log-likelihood per frame against a loop of phones below which something else was said."""


class UnfitError(ValueError):
    """Readings that no fitting can be made from; the message says what to do."""


@dataclass(frozen=True, slots=True)
class VoiceFit:
    """`warp`: the factor for `Sphinx.warp`; `phrases`: how many it rests on; `gain`:
    nats that a phrase gained by it."""

    warp: float
    phrases: int
    gain: float


def fit(readings: Sequence[tuple[Samples, str]]) -> VoiceFit:
    """The fitting from sounds and the words read in them. Raises UnfitError where most
    do not sound like their words, whatever the factor."""
    words = {word for _, phrase in readings for word in phrase.split()}
    nothing = Network((dict.fromkeys(sorted(words), 1), {}), frozenset([1]))
    sphinx = Sphinx(nothing, pronunciations())
    scored = [[_score(sphinx, factor, *reading) for factor in FACTORS] for reading in readings]
    usable = [
        (reading, [score for score in row if score is not None])
        for reading, row in zip(readings, scored, strict=True)
        if None not in row
    ]
    sums = [sum(column) for column in zip(*(row for _, row in usable), strict=True)] or [0.0]
    best, untouched = max(range(len(sums)), key=sums.__getitem__), FACTORS.index(1.0)
    sphinx.warp(FACTORS[best])
    fitting = sum(_is_reading(sphinx, *reading) for reading, _ in usable)
    if 2 * fitting <= len(readings):
        raise UnfitError(
            f"{fitting} of {len(readings)} phrases sounded like what was to be read; "
            "read them in order, one at a time, without the fan"
        )
    gain = (sums[best] - sums[untouched]) / len(usable)
    if gain < LEAST_GAIN:
        return VoiceFit(1.0, fitting, 0.0)
    return VoiceFit(FACTORS[best], fitting, round(gain, 1))


def _score(sphinx: Sphinx, factor: float, samples: Samples, phrase: str) -> float | None:
    sphinx.warp(factor)
    return sphinx.score(samples, phrase)


def _is_reading(sphinx: Sphinx, samples: Samples, phrase: str) -> bool:
    ratio = sphinx.ratio_of(samples, phrase)
    return ratio is not None and ratio > STRANGE_RATIO


# ---- the file it is kept in ---------------------------------------------------------


def voice_path() -> Path:
    """Where the fitting is kept."""
    return data_folder() / "voice.json"


def keep(fitting: VoiceFit) -> Path:
    """Write the fitting for all cooks to come. Raises OSError."""
    path = voice_path()
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    part = path.with_suffix(".part")
    part.write_text(json.dumps(asdict(fitting)) + "\n", encoding="utf-8")
    return part.replace(path)


def kept() -> VoiceFit | None:
    """The fitting that is kept; None where there is none or it cannot be used."""
    try:
        read = VoiceFit(**json.loads(voice_path().read_text(encoding="utf-8")))
        return read if FACTORS[0] <= read.warp <= FACTORS[-1] else None
    except (OSError, ValueError, TypeError):
        return None


def forget() -> bool:
    """Remove the fitting; whether there was one. Raises OSError."""
    path = voice_path()
    was_there = path.exists()
    path.unlink(missing_ok=True)
    return was_there
