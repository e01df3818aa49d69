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
    makes a command seven times as likely. With the judge `meant_bias` is 1.4 above
    the fit: it refused no less of the development talk, and fewer true commands.
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
    judged=0.913,
    a_token=2.707,
    plain=4.335,
    cleaned=4.448,
    vosk=4.0,
    lead=1.21,
    listed_bias=6.637,
    listed_mean=2.131,
    listed_support=1.376,
    meant_bias=9.58,
    meant_mean=3.105,
    meant_ratio=3.013,
    meant_support=0.0,
    meant_spare=-0.925,
)

JUDGE_ALONE = Weights(
    judged=1.195,
    a_token=1.372,
    plain=0.0,
    cleaned=0.0,
    vosk=0.0,
    lead=0.971,
    listed_bias=4.308,
    listed_mean=2.626,
    listed_support=0.0,
    meant_bias=6.865,
    meant_mean=3.408,
    meant_ratio=0.0,
    meant_support=0.0,
    meant_spare=-1.708,
)
"""Where the first listener was not asked, or gave no answer: it is worth nothing then,
rather than counted as if it had heard nothing."""

WITHOUT_JUDGE = Weights(
    judged=0.0,
    a_token=0.0,
    plain=1.0,
    cleaned=1.0,
    vosk=1.5,
    lead=0.793,
    listed_bias=0.41,
    listed_mean=0.0,
    listed_support=3.554,
    meant_bias=2.721,
    meant_mean=0.0,
    meant_ratio=2.941,
    meant_support=0.0,
    meant_spare=0.0,
)


@dataclass(frozen=True, slots=True)
class Costs:
    """What each mistake costs the cook, in questions: a wrong entry in the record is
    far worse than a question, and a question is worse than a tone."""

    wrong_record: float = 12.0
    wrong_answer: float = 1.2
    question: float = 1.0
    stress: float = 0.08
    missed: float = 1.5
    disturbed: float = 3.0


COSTS = Costs()


@dataclass(frozen=True, slots=True)
class Limits:
    """Signs by which the second listener alone settles a choice at once.

    Sure: `mean` and `lead` at least, `spare_s` at most, and a command that makes sense
    now. Of 350 development commands (clean, 20, 10 and 5 dB) 160 were settled so, none
    wrongly, and none of 222 sentences of talk; `chance` is what that entitles to.
    Hopeless: a mean below `hopeless_mean`; no development command was, and 87 of the
    sentences of talk. Clear: the first listener's plain decode gave the same words, with
    a mean above `clear_mean`; a closer look is spared then.
    """

    mean: float = -0.6
    lead: float = 2.0
    spare_s: float = 0.4
    chance: float = 0.995
    hopeless_mean: float = -3.5
    clear_mean: float = -1.5


LIMITS = Limits()
