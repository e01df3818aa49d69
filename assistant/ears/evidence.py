"""What the recogniser made of one utterance, and whether a command would bend it."""

import math
from collections.abc import Callable
from dataclasses import dataclass

from assistant.ears.heard import EngineName, Sentence
from assistant.grammar.free.context import Understood

Meaning = Callable[[str], Understood | None]

OTHER_WORDS = "it was said in words that mean no command"
"""Why something that no command explains is refused."""
BENT = 3.0
"""How much better, in log-probability, any words may explain a sound than the best command,
and this still be what was said (`python -m tests.benchmarks.hearing_free`)."""
NEAR = 1.0
"""The same for a wording in a cook's own words: they were found by the same search."""

SURE = -0.35
"""Log-probability a token from which on a free wording was surely heard, word for word
(`python -m tests.benchmarks.hearing_free --development`)."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the recogniser made of one utterance: sentences of the grammar, best first, then
    their sound-alikes; and `free`, what it writes in any words, best first, where no sentence
    of the grammar explains the sound well."""

    sentences: tuple[Sentence, ...] = ()
    free: tuple[Sentence, ...] = ()
    engine: EngineName = "whisper"
    audio_s: float = 0.0
    compute_s: float = 0.0
    opening: float | None = None
    """Log-probability that it opens with the address word (whisper/opening.py), where that is
    known."""


def other_words(evidence: Evidence, meaning: Meaning) -> str | None:
    """The wording that explains the sound, where that means no command and all that do would
    have to bend it: a closed grammar turns what it does not know into what it does."""
    both = ((BENT, evidence.sentences), (NEAR, evidence.free))
    known = [
        one.score + room for room, found in both for one in found if meaning(one.words) is not None
    ]
    best = max(evidence.free, key=lambda one: one.score, default=None)
    is_bent = best is not None and best.score > max(known, default=-math.inf)
    return best.words if best is not None and is_bent else None


def sure_words(evidence: Evidence, opened: str) -> frozenset[str]:
    """The free wordings that were surely heard and are meant for us: they begin with `opened`.
    Of two, the one that explains the sound much worse was not."""
    best = max((one.score for one in evidence.free), default=0.0)
    return frozenset(
        one.words
        for one in evidence.free
        if one.mean >= SURE and one.score >= best - NEAR and one.words.startswith(opened)
    )
