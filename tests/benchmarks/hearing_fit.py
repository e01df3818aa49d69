"""Fit the choice's weights on development data: `python -m tests.benchmarks.hearing_fit`.

Development data: corpora with the seed DEVELOPMENT (commands clean, 10 and 5 dB; talk;
human talk; no talk whose very words mean a command, for no sound can tell that from one).
Commands are those of voices the recogniser was not fitted on, as a
cook's will be. The figures of hearing.py are for other sentences, noises and recordings.
Prints lines for assistant/ears/weights.py. All regressions carry a weak ridge towards
nought, since the development data are a few hundred utterances.
"""

import argparse
from collections import Counter
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import minimize

from assistant.ears.candidates import ranking, resting_prior, signs
from assistant.ears.ears import Ears
from assistant.ears.weights import WEIGHTS, Weights
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import NATURAL, NEVER_FITTED
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_evidence import Item, Tried, tried
from tests.benchmarks.hearing_tally import taken_of

Floats = NDArray[np.float64]
RIDGE = 0.1
START = WEIGHTS["whisper"]


def collected(ears: Ears, count: int) -> tuple[list[Tried], list[Tried]]:
    """Spoken commands and talk of the development seed, heard."""
    unheard = tuple(voice for voice in NATURAL if voice in NEVER_FITTED)
    c = corpora.spoken_commands(count, DEVELOPMENT, unheard)
    most = c[: count * 5 // 7]
    commands = [*most, *corpora.in_noise(c, 10), *corpora.in_noise(most, 5)]
    invented = corpora.invented_talk(count * 8 // 7, DEVELOPMENT)
    talk: list[Item] = [
        *(one for one in invented if ears.meaning(one.key.partition("|")[2]) is None),
        *corpora.human_talk(count * 2 // 7, development=True),
    ]
    return list(tried(ears, commands, "cook")), list(tried(ears, talk, "cook"))


def candidate_weights(ears: Ears, heard: list[Tried]) -> Weights:
    """A conditional logit over each utterance's candidates."""
    tables = []
    for one in heard:
        ranked = [c for _, c in ranking(one.evidence, ears.meaning, resting_prior)]
        right = [c.facts == (one.item.truth,) for c in ranked]
        if any(right) and not all(right):
            rows = [(c.said.score, float(c.said.tokens), c.prior) for c in ranked]
            tables.append((np.array(rows), right.index(True)))

    def loss(x: Floats) -> float:
        total = RIDGE * float(np.sum((x - 1.0) ** 2))
        for rows, right in tables:
            logits = rows @ np.array([x[0], x[0] * x[1], 1.0])
            total += float(np.logaddexp.reduce(logits) - logits[right])
        return total

    x = minimize(loss, np.ones(2), method="Nelder-Mead").x
    return replace(START, score=float(x[0]), a_token=float(x[1]))


def trust_weights(ears: Ears, commands: list[Tried], talk: list[Tried], start: Weights) -> Weights:
    """How far to trust the best candidate: that the truth is among the candidates, that
    the best is the right one of them, that the sound was a command at all."""
    means, meant, leads, listed = [], [], [], 0
    for one in (*commands, *talk):
        ranked = ranking(one.evidence, ears.meaning, resting_prior, start)
        if not ranked:
            continue
        found = signs(ranked)
        means.append(found.mean)
        meant.append(one.item.truth is not None)
        if any(c.facts == (one.item.truth,) for _, c in ranked):
            listed += 1
            leads.append((found.lead, ranked[0][1].facts == (one.item.truth,)))
    missing = max(0.5, sum(meant) - listed)  # never missing: half a miss is assumed
    bias, mean = _logistic(np.array(means), np.array(meant))
    return replace(
        start, lead=_lead_weight(np.array(leads, float)), listed=float(np.log(listed / missing)),
        meant_bias=bias, meant_mean=mean,
    )  # fmt: skip


def _logistic(sign: Floats, truth: NDArray[np.bool_]) -> tuple[float, float]:
    """Bias and weight of a ridge logistic regression; the sign speaks for, never against."""

    def loss(x: Floats) -> float:
        margin = (x[0] + x[1] * sign) * np.where(truth, 1.0, -1.0)
        return float(np.sum(np.logaddexp(0.0, -margin))) + RIDGE * float(x[1] ** 2)

    x = minimize(loss, np.zeros(2), bounds=[(None, None), (0.0, None)]).x
    return float(x[0]), float(x[1])


def _lead_weight(leads: Floats) -> float:
    """The temperature that makes leads honest odds; near one unless the data object."""

    def loss(x: Floats) -> float:
        margin = x[0] * leads[:, 0] * np.where(leads[:, 1] > 0, 1.0, -1.0)
        return float(np.sum(np.logaddexp(0.0, -margin))) + 4.0 * float((x[0] - 1.0) ** 2)

    return float(minimize(loss, np.ones(1), bounds=[(0.0, None)]).x[0])


def outcome(ears: Ears, one: Tried) -> str:
    """Taken rightly or wrongly, asked about, or refused."""
    heard = ears.decide(one.evidence)
    if heard.outcome in ("ask", "refuse"):
        return heard.outcome
    return "right" if taken_of(heard) == (one.item.truth,) else "wrong"


def main() -> None:
    """Print the weights, and what becomes of the same sound with those written down."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=70)
    asked = parser.parse_args()
    ears = Ears(TONIGHT, engine="whisper")
    commands, talk = collected(ears, asked.count)
    ears.close()
    print(trust_weights(ears, commands, talk, candidate_weights(ears, commands)))
    for name, part in (("commands", commands), ("talk", talk)):
        found = Counter(outcome(ears, one) for one in part)
        print(f"with the weights written down, of {len(part)} {name}: {dict(found)}")


if __name__ == "__main__":
    main()
