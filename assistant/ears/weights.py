"""The numbers of the choice, fitted on development sound and written down here.

Fitted by `python -m tests.benchmarks.hearing_fit` (its docstring names the data).
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Weights:
    """How much each sign counts, in log-odds.

    A candidate's logit is `judged` x (forced log-probability + `a_token` x tokens)
    + `plain`, `cleaned` or `vosk` for every first listener that heard it + its prior.
    `lead` is what the best candidate's lead over the others is worth, `listed_...` give
    the chance that the truth is among the candidates, `meant_...` that the sound was a
    command at all; `meant_expected` is set by hand: an address word or an open question
    makes a command seven times as likely. With the judge the truth was among the
    candidates of all 170 development commands; `listed_bias` takes half a miss for granted.
    """

    judged: float
    a_token: float
    plain: float
    cleaned: float
    vosk: float
    lead: float
    listed_bias: float
    listed_mean: float
    listed_support: float
    meant_bias: float
    meant_mean: float
    meant_ratio: float
    meant_support: float
    meant_spare: float
    meant_expected: float = 2.0


WITH_JUDGE = Weights(
    judged=1.987,
    a_token=0.595,
    plain=1.995,
    cleaned=4.859,
    vosk=4.0,
    lead=1.082,
    listed_bias=5.83,
    listed_mean=0.0,
    listed_support=0.0,
    meant_bias=6.409,
    meant_mean=5.143,
    meant_ratio=0.561,
    meant_support=0.8,
    meant_spare=0.0,
)

JUDGE_ALONE = Weights(
    judged=1.571,
    a_token=0.487,
    plain=0.0,
    cleaned=0.0,
    vosk=0.0,
    lead=0.813,
    listed_bias=5.83,
    listed_mean=0.0,
    listed_support=0.0,
    meant_bias=5.376,
    meant_mean=5.96,
    meant_ratio=0.0,
    meant_support=0.0,
    meant_spare=0.0,
)
"""Where the first listener was not asked, or gave no answer: it is worth nothing then,
rather than counted as if it had heard nothing."""

WITHOUT_JUDGE = Weights(
    judged=0.0,
    a_token=0.0,
    plain=1.0,
    cleaned=1.0,
    vosk=1.5,
    lead=0.549,
    listed_bias=0.062,
    listed_mean=0.0,
    listed_support=2.127,
    meant_bias=2.612,
    meant_mean=0.001,
    meant_ratio=2.318,
    meant_support=0.0,
    meant_spare=0.0,
)


@dataclass(frozen=True, slots=True)
class Costs:
    """What each mistake costs the cook, in questions: a wrong entry in the record is
    far worse than a question, and a question is worse than a tone. A mistake for the
    opposite (opposites.py) costs `opposite` times as much."""

    wrong_record: float = 12.0
    wrong_answer: float = 1.2
    question: float = 1.0
    stress: float = 0.08
    missed: float = 1.5
    disturbed: float = 3.0
    opposite: float = 5.0


COSTS = Costs()


@dataclass(frozen=True, slots=True)
class Limits:
    """Signs by which the second listener alone settles a choice at once.

    Sure: `mean` and `lead` at least (`opposite` more where the nearest other command is the
    opposite), `spare_s` at most, and a command that makes sense
    now; `chance` is what that entitles to. Of 170 development commands 138 were settled
    so, none wrongly (one would be at a lead of 2.6, one at 3.9), and of 100 pieces of talk
    none; `hearing_fit` would let the mean down to -0.87.
    Hopeless: a mean below `hopeless_mean`, where no development command was. Clear: the
    first listener's plain decode gave the same words, with a mean above `clear_mean`; a
    closer look is spared then.
    """

    mean: float = -0.326
    lead: float = 5.0
    opposite: float = 2.0
    spare_s: float = 0.4
    chance: float = 0.995
    hopeless_mean: float = -2.1
    clear_mean: float = -1.5


LIMITS = Limits()
"""Refitted whenever a listener changes."""
