"""Fit the choice's weights on development data: `python -m tests.benchmarks.hearing_fit`.

Development data: corpora with the seed DEVELOPMENT (commands clean, 10 and 5 dB; talk;
human talk). Commands are those of voices the second listener was not fitted on, as a
cook's will be. The figures of hearing.py are for other sentences, noises and recordings.
Prints lines for assistant/ears/weights.py. All regressions carry a weak ridge towards
nought, since the development data are a few hundred utterances.
"""

import argparse
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from assistant.ears.choice import is_sure, ranking, resting_prior, signs
from assistant.ears.ears import Ears
from assistant.ears.engine import CLEANED
from assistant.ears.weights import (
    JUDGE_ALONE,
    LIMITS,
    WITH_JUDGE,
    WITHOUT_JUDGE,
    Limits,
    Weights,
)
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import NATURAL, NEVER_FITTED
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_evidence import Item, Tried, tried

Floats = NDArray[np.float64]
RIDGE = 0.1
MARGIN = 0.1
UP, DOWN = (0.0, None), (None, 0.0)
"""A sign only ever speaks for a candidate, or only against it."""


def collected(ears: Ears, judge: bool) -> tuple[list[Tried], list[Tried]]:
    """Spoken commands and talk of the development seed, heard."""
    unheard = tuple(voice for voice in NATURAL if voice in NEVER_FITTED)
    c = corpora.spoken_commands(70, DEVELOPMENT, unheard)
    commands = [*c[:50], *corpora.in_noise(c, 10), *corpora.in_noise(c[:50], 5)]
    talk: list[Item] = [
        *corpora.invented_talk(80, DEVELOPMENT),
        *corpora.human_talk(20, development=True),
    ]
    heard = [list(tried(ears, items, "cook")) for items in (commands, talk)]
    if not judge:
        heard = [
            [replace(t, stages=(replace(t.evidence, judged=()),)) for t in part] for part in heard
        ]
    return heard[0], heard[1]


def candidate_weights(ears: Ears, heard: list[Tried], start: Weights) -> Weights:
    """A conditional logit over each utterance's candidates."""
    tables = []
    for one in heard:
        ranked = [c for _, c in ranking(one.evidence, ears.meaning, resting_prior, start)]
        right = [c.command == one.item.truth for c in ranked]
        if any(right) and not all(right):
            rows = [
                (
                    c.judged.score if c.judged else -20.0,
                    float(c.judged.tokens) if c.judged else 0.0,
                    float(any(not e.endswith(CLEANED) for e in c.heard_by)),
                    float(any(e.endswith(CLEANED) for e in c.heard_by)),
                    c.prior,
                )
                for c in ranked
            ]
            tables.append((np.array(rows), right.index(True)))

    def loss(x: Floats) -> float:
        total = RIDGE * float(np.sum((x - np.array([1.0, 1.0, 2.0, 3.0])) ** 2))
        for rows, right in tables:
            logits = rows @ np.array([x[0], x[0] * x[1], x[2], x[3], 1.0])
            total += float(np.logaddexp.reduce(logits) - logits[right])
        return total

    x = minimize(loss, np.array([1.0, 1.0, 2.0, 3.0]), method="Nelder-Mead").x
    return replace(
        start, judged=float(x[0]), a_token=float(x[1]), plain=float(x[2]), cleaned=float(x[3])
    )


def logistic(
    features: Floats, truth: Floats, bounds: list[tuple[float | None, float | None]]
) -> Floats:
    """Bias and weights of a ridge logistic regression within bounds."""
    columns = np.column_stack([np.ones(len(features)), features])

    def loss(x: Floats) -> float:
        margin = (columns @ x) * np.where(truth > 0, 1.0, -1.0)
        return float(np.sum(np.logaddexp(0.0, -margin))) + RIDGE * float(np.sum(x[1:] ** 2))

    fitted: Floats = minimize(loss, np.zeros(columns.shape[1]), bounds=[(None, None), *bounds]).x
    return fitted


def trust_weights(ears: Ears, commands: list[Tried], talk: list[Tried], start: Weights) -> Weights:
    """How far to trust the best candidate: that the truth is among the candidates, that
    the best is the right one of them, that the sound was a command at all."""
    found, truths, leads = [], [], []
    for one in (*commands, *talk):
        ranked = ranking(one.evidence, ears.meaning, resting_prior, start)
        if not ranked:
            continue
        s = signs(ranked, one.evidence)
        is_listed = any(c.command == one.item.truth for _, c in ranked)
        found.append((s.mean, s.support, s.ratio, s.spare_s))
        truths.append((is_listed, one.item.truth is not None))
        if is_listed:
            leads.append((s.lead, ranked[0][1].command == one.item.truth))
    x, (is_listed_at, is_meant) = np.array(found), np.array(truths, float).T
    meant = is_meant > 0
    a = logistic(x[meant][:, [0, 1]], is_listed_at[meant], [UP, UP])
    a[0] = min(a[0], np.log(2.0 * meant.sum()))  # never missing: half a miss is assumed
    b = logistic(x, is_meant, [UP, UP, UP, DOWN])
    return replace(
        start, lead=_lead_weight(np.array(leads, float)), listed_bias=float(a[0]),
        listed_mean=float(a[1]), listed_support=float(a[2]), meant_bias=float(b[0]),
        meant_mean=float(b[1]), meant_support=float(b[2]), meant_ratio=float(b[3]),
        meant_spare=float(b[4]),
    )  # fmt: skip


def _lead_weight(leads: Floats) -> float:
    """The temperature that makes leads honest odds; near one unless the data object."""

    def loss(x: Floats) -> float:
        margin = x[0] * leads[:, 0] * np.where(leads[:, 1] > 0, 1.0, -1.0)
        return float(np.sum(np.logaddexp(0.0, -margin))) + 4.0 * float((x[0] - 1.0) ** 2)

    return float(minimize(loss, np.ones(1), bounds=[UP]).x[0])


def alone(heard: list[Tried]) -> list[Tried]:
    """The same before the first listener was asked."""
    first = [replace(one, stages=one.stages[:1]) for one in heard]
    return [one for one in first if one.evidence.asked == "not" and one.evidence.judged]


def limits(ears: Ears, commands: list[Tried], talk: list[Tried]) -> Limits:
    """The limits within which the second listener alone was never wrong, and below which
    nothing it heard was taken rightly in the end, each with a margin. Needs the weights
    already written down."""
    wrong, taken = [-1.5], [-2.0]
    for one in (*commands, *talk):
        ranked = ranking(one.stages[0], ears.meaning, resting_prior, WITH_JUDGE)
        if not ranked or one.stages[0].asked != "not":
            continue
        found = signs(ranked, one.stages[0])
        is_right = ranked[0][1].command == one.item.truth
        if not is_right and is_sure(one.stages[0], ears.meaning, limits=replace(LIMITS, mean=-9)):
            wrong.append(found.mean)
        if one.item.truth is not None and ears.decide(one.evidence).command == one.item.truth:
            taken.append(max(sentence.mean for sentence in one.stages[0].judged))
    return replace(LIMITS, mean=max(wrong) + MARGIN, hopeless_mean=min(taken) - MARGIN)


def main() -> None:
    """Print the sets of weights, and the limits that go with the ones written down."""
    argparse.ArgumentParser(description=__doc__).parse_args()
    ears = Ears(TONIGHT, engine="sphinx")
    for judge, start in ((True, WITH_JUDGE), (False, WITHOUT_JUDGE)):
        commands, talk = collected(ears, judge)
        weights = candidate_weights(ears, commands, start) if judge else start
        print(trust_weights(ears, commands, talk, weights))
    commands, talk = (alone(heard) for heard in collected(ears, judge=True))
    weights = replace(candidate_weights(ears, commands, JUDGE_ALONE), plain=0.0, cleaned=0.0)
    print("alone:", trust_weights(ears, commands, talk, weights))
    print(limits(ears, *collected(ears, judge=True)))
    ears.close()


if __name__ == "__main__":
    main()
