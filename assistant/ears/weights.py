"""The numbers of the choice, fitted on development sound and written down here.

Fitted by `python -m tests.benchmarks.hearing_fit` (its docstring names the data).
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Weights:
    """How much each sign counts, in log-odds.

    A candidate's logit is `judged` x (forced log-probability + `a_token` x tokens)
    + `plain`, `cleaned` or `vosk` for every first listener that heard it + its prior.
    `right_...` turn the best candidate's lead into the chance that it is right,
    `meant_...` the chance that the sound was a command at all.
    """

    judged: float
    a_token: float
    plain: float
    cleaned: float
    vosk: float
    right_bias: float
    right_lead: float
    right_mean: float
    right_support: float
    meant_bias: float
    meant_mean: float
    meant_ratio: float
    meant_support: float


WITH_JUDGE = Weights(
    judged=1.0, a_token=1.0, plain=2.0, cleaned=4.0, vosk=4.0,
    right_bias=1.0, right_lead=0.6, right_mean=1.0, right_support=1.5,
    meant_bias=4.0, meant_mean=2.5, meant_ratio=0.5, meant_support=1.5,
)  # fmt: skip

WITHOUT_JUDGE = Weights(
    judged=0.0, a_token=0.0, plain=1.0, cleaned=1.0, vosk=1.5,
    right_bias=0.5, right_lead=0.3, right_mean=0.0, right_support=2.5,
    meant_bias=3.5, meant_mean=0.0, meant_ratio=2.5, meant_support=1.0,
)  # fmt: skip


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
