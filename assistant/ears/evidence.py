"""What the listeners made of one utterance, and whether a command would bend it."""

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from assistant.cook.commands import Command
from assistant.ears.heard import Hypothesis
from assistant.ears.whisper.guided import Sentence

Meaning = Callable[[str], Command | None]
Asked = Literal["not", "once", "closely"]
"""Of the first listener: not at all, for the plain sound, for the cleaned sound as well."""


OTHER_WORDS = "it was said in words that mean no command"
"""Why something that no command explains is refused."""
BENT = 3.0
"""How much better, in log-probability, any words may explain a sound than the best command,
and this still be what was said (`python -m tests.benchmarks.hearing_free`)."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What the listeners made of one utterance: the first one's hypotheses, the second
    one's scored sentences (none where it does not take part). `asked`: how far the first
    listener was asked; one that was not asked has not heard nothing."""

    hypotheses: tuple[Hypothesis, ...]
    judged: tuple[Sentence, ...]
    audio_s: float = 0.0
    compute_s: float = 0.0
    asked: Asked = "closely"
    free: tuple[Sentence, ...] = ()
    """What the second listener wrote in any words, best first, where it was asked."""

    @property
    def ratio(self) -> float | None:
        """Log-likelihood per frame against a loop of phones, where it is known."""
        return next((h.ratio for h in self.hypotheses if h.ratio is not None), None)


def other_words(evidence: Evidence, meaning: Meaning) -> str | None:
    """The wording that explains the sound, where that means no command and all that do would
    have to bend it: a closed grammar turns what it does not know into what it does."""
    scored = (*evidence.free, *evidence.judged)
    known = [one.score for one in scored if meaning(one.words) is not None]
    best = max(evidence.free, key=lambda one: one.score, default=None)
    is_bent = best is not None and best.score > max(known, default=-math.inf) + BENT
    return best.words if best is not None and is_bent else None
