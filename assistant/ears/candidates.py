"""What a sound may have meant, how well each meaning explains it, and how far to trust the best.

Every candidate is a meaning: the facts of a breath, or bare words where there are no commands.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeGuard, get_args

import numpy as np

from assistant.cook.vocabulary.commands import Command
from assistant.ears.evidence import Evidence, Meaning
from assistant.ears.heard import Prior, Sentence
from assistant.ears.weights import WEIGHTS, Weights
from assistant.grammar.free.context import Understood
from assistant.grammar.free.open_facts import Fact

_COMMANDS = get_args(Command)
_MOST_LEAD = 10.0
_DRAW = 2

_PRIOR_FLOOR = -12.0
"""No prior may rule a command out: surprises are what a record is for."""

_ANSWERS = {"number": -6.0, "choose": -6.0, "item_skip": -3.0, "item_back": -3.0, "no": -2.0}
"""Log plausibility of answers where nothing was asked and no cook is known."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """One meaning (None where there are only words), its best wording, and how plausible the
    cook makes it."""

    meant: Understood | None
    said: Sentence
    prior: float = 0.0

    @property
    def facts(self) -> tuple[Fact, ...]:
        """What it says."""
        return self.meant.facts if self.meant is not None else ()


def resting_prior(command: Command) -> float:
    """The prior where no cook is known: answers are rare, all else is alike."""
    return _ANSWERS.get(command.NAME, 0.0)


def gather(
    evidence: Evidence, meaning: Meaning | None, prior: Prior = resting_prior
) -> list[Candidate]:
    """Candidates from everything found, one a meaning, each in its best words. With
    `meaning`, words that mean no command are dropped."""
    scores = {sentence.words: sentence for sentence in (*evidence.free, *evidence.sentences)}
    meant: dict[Understood | str, list[Sentence]] = {}
    for words, sentence in scores.items():
        understood = meaning(words) if meaning else None
        if understood is not None or meaning is None:
            meant.setdefault(understood or words, []).append(sentence)
    found = []
    for key, spoken in meant.items():
        understood = None if isinstance(key, str) else key
        facts = understood.facts if understood else ()
        plausible = sum(max(_PRIOR_FLOOR, prior(fact)) for fact in facts if is_command(fact))
        found.append(Candidate(understood, max(spoken, key=lambda s: s.score), plausible))
    return found


def is_command(fact: Fact) -> TypeGuard[Command]:
    """Whether a fact is one the cook decides on as it stands."""
    return isinstance(fact, _COMMANDS)


def logit(candidate: Candidate, weights: Weights) -> float:
    """How well one candidate explains what was heard, times its prior, as a logarithm."""
    said = candidate.said
    return candidate.prior + weights.score * (said.score + weights.a_token * said.tokens)


@dataclass(frozen=True, slots=True)
class Signs:
    """What tells how far to trust the best candidate. `lead`: log-odds over all others.
    `mean`: the score a token, short sentences drawn towards nought."""

    lead: float
    mean: float


def signs(ranked: Sequence[tuple[float, Candidate]]) -> Signs:
    """The signs of the best of the ranked candidates."""
    score, best = ranked[0]
    mean = best.said.score / (best.said.tokens + _DRAW)
    return Signs(lead_over(score, [other for other, _ in ranked[1:]]), mean)


def lead_over(score: float, rest: Sequence[float]) -> float:
    """The log-odds of the best over all of the rest, as far as such odds can be believed."""
    return min(_MOST_LEAD, score - float(np.logaddexp.reduce(rest))) if rest else _MOST_LEAD


def chance_right(found: Signs, weights: Weights) -> float:
    """The chance that the best candidate is what was said: that it was among the
    candidates at all, times that it is the right one of them."""
    return _sigmoid(weights.listed) * _sigmoid(weights.lead * found.lead)


def chance_meant(found: Signs, weights: Weights, *, expected: bool = False) -> float:
    """The chance, from its signs, that the sound was a command at all; `expected` when it
    was addressed, or answers a question just asked."""
    return _sigmoid(
        weights.meant_bias + weights.meant_expected * expected + weights.meant_mean * found.mean
    )


def ranking(
    evidence: Evidence, meaning: Meaning | None, prior: Prior, weights: Weights | None = None
) -> list[tuple[float, Candidate]]:
    """Candidates with their logits, best first. `weights`: the recogniser's unless given."""
    weights = weights or WEIGHTS[evidence.engine]
    candidates = gather(evidence, meaning, prior)
    return sorted(((logit(c, weights), c) for c in candidates), key=lambda pair: -pair[0])


def _sigmoid(x: float) -> float:
    return 1.0 / (1.0 + math.exp(-max(-50.0, min(50.0, x))))
