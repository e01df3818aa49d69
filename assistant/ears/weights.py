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
    meant_spare: float


WITH_JUDGE = Weights(
    judged=1.084,
    a_token=2.934,
    plain=3.128,
    cleaned=4.455,
    vosk=4.0,
    right_bias=9.73,
    right_lead=0.345,
    right_mean=2.109,
    right_support=2.437,
    meant_bias=7.222,
    meant_mean=2.073,
    meant_ratio=2.855,
    meant_support=0.0,
    meant_spare=-0.393,
)

WITHOUT_JUDGE = Weights(
    judged=0.0,
    a_token=0.0,
    plain=1.0,
    cleaned=1.0,
    vosk=1.5,
    right_bias=-2.355,
    right_lead=0.483,
    right_mean=0.0,
    right_support=2.103,
    meant_bias=2.303,
    meant_mean=0.0,
    meant_ratio=2.83,
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
