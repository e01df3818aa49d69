"""The numbers of the choice, fitted on development sound and written down here.

Fitted by `python -m tests.benchmarks.hearing_fit` (its docstring names the data). Whisper's were
fitted before cooks' own words were heard. The fit anew (score 1.24, a_token 0.74, lead 1.10, bias
4.03, mean 5.44) takes 130 of the same 136 commands rightly and one wrongly; with these 130 are
taken rightly, six are asked about and none is wrong, so these stay.
"""

from dataclasses import dataclass

from assistant.ears.heard import EngineName


@dataclass(frozen=True, slots=True)
class Weights:
    """How much each sign counts, in log-odds.

    A candidate's logit is `score` x (its log-probability + `a_token` x tokens) + its prior.
    `lead` is what the best candidate's lead over the others is worth, `listed` the chance
    that the truth is among the candidates, `meant_...` give the chance that the sound was a
    command at all; `meant_expected` is set by hand: an address word or an open question
    makes a command seven times as likely. The truth was among Whisper's candidates of all
    170 development commands; `listed` takes half a miss for granted.
    """

    score: float
    a_token: float
    lead: float
    listed: float
    meant_bias: float
    meant_mean: float
    meant_expected: float = 2.0


WEIGHTS: dict[EngineName, Weights] = {
    "whisper": Weights(
        score=1.571, a_token=0.487, lead=0.813, listed=5.83, meant_bias=5.376, meant_mean=5.96
    ),
    # By hand, for no English model of Vosk was there to fit on: words it is sure of are taken.
    "vosk": Weights(score=1.0, a_token=0.0, lead=1.0, listed=4.0, meant_bias=4.0, meant_mean=6.0),
}


@dataclass(frozen=True, slots=True)
class Costs:
    """What each mistake costs the cook, in questions: a wrong entry in the record is
    far worse than a question, and a question is worse than a tone. A mistake for the
    opposite (opposites.py) costs `opposite` times as much, one in a cook's own words, which no
    grammar held in line, `own_words` times (`python -m tests.benchmarks.hearing_free
    --development`). Numbers by themselves, with no cook
    who could find them strange, cost most (`python -m tests.benchmarks.hearing_numbers`)."""

    wrong_record: float = 12.0
    wrong_answer: float = 1.2
    question: float = 1.0
    stress: float = 0.08
    missed: float = 1.5
    disturbed: float = 3.0
    opposite: float = 5.0
    own_words: float = 2.0
    wrong_number: float = 40.0


COSTS = Costs()

ADDRESSED = -7.0
"""Log-probability of the address word (whisper/opening.py) below which an utterance does not
open with it (`python -m tests.benchmarks.addressword`)."""
