"""The choice: which command was meant, and whether to take it, stress it, ask or refuse.

Every candidate is a meaning: the facts of a breath, or bare words where there are no commands.
Its evidence is the recogniser's score of the very words, and how plausible the cook makes
it now.
"""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeGuard, get_args

import numpy as np

from assistant.cook.vocabulary.commands import Command
from assistant.ears.evidence import OTHER_WORDS, Evidence, Meaning, other_words
from assistant.ears.heard import Heard, Outcome, Prior, Sentence
from assistant.ears.opposites import are_opposite
from assistant.ears.weights import COSTS, LIMITS, WEIGHTS, Costs, Limits, Weights
from assistant.grammar.free.context import Understood
from assistant.grammar.free.open_facts import Fact

_COMMANDS = get_args(Command)
UNCLEAR = "it was not clear enough"
"""Why something that was probably meant as a command is refused."""
_MOST_LEAD = 10.0
_DRAW = 2
_MARGINS_S, _LETTER_S = 0.5, 0.09
"""Silence kept around an utterance; how long a letter lasts in unhurried speech."""

_PRIOR_FLOOR = -12.0
"""No prior may rule a command out: surprises are what a record is for."""

_ANSWERS = {"number": -6.0, "choose": -6.0, "item_skip": -3.0, "item_back": -3.0, "no": -2.0}
"""Log plausibility of answers where nothing was asked and no cook is known."""

_ANSWER_FLOOR, _SENSE_FLOOR = -3.0, -9.0
"""Log plausibility below which an answer is taken for the end of a longer sentence, and
any command for a surprise: neither is believed at once."""

_BARE_ACCEPT = 0.05
"""Words without commands are printed unless it is this unlikely that they were meant."""

_HARMLESS = frozenset({
    "acknowledge", "ask_when", "ask_next", "ask_elapsed", "ask_last", "ask_fire", "ask_sauce",
    "ask_left", "ask_why", "ask_heard", "ask_help", "ask_what_if", "ask_time", "ask_status",
    "repeat", "quieter", "louder", "hush", "wake", "snooze",
})  # fmt: skip


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


def changes_record(fact: Fact | None) -> bool:
    """Whether acting on it wrongly would leave a trace."""
    return fact is None or fact.NAME not in _HARMLESS


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
        plausible = sum(max(_PRIOR_FLOOR, prior(fact)) for fact in facts if _is_command(fact))
        found.append(Candidate(understood, max(spoken, key=lambda s: s.score), plausible))
    return found


def _is_command(fact: Fact) -> TypeGuard[Command]:
    return isinstance(fact, _COMMANDS)


def logit(candidate: Candidate, weights: Weights) -> float:
    """How well one candidate explains what was heard, times its prior, as a logarithm."""
    said = candidate.said
    return candidate.prior + weights.score * (said.score + weights.a_token * said.tokens)


@dataclass(frozen=True, slots=True)
class Signs:
    """What tells how far to trust the best candidate. `lead`: log-odds over all others.
    `mean`: the score a token, short sentences drawn towards nought. `spare_s`: sound left
    over by so few words, as when a command is only the opening of a long sentence."""

    lead: float
    mean: float
    spare_s: float


def signs(ranked: Sequence[tuple[float, Candidate]], evidence: Evidence) -> Signs:
    """The signs of the best of the ranked candidates."""
    score, best = ranked[0]
    rest = [other for other, _ in ranked[1:]]
    lead = score - float(np.logaddexp.reduce(rest)) if rest else _MOST_LEAD
    spare_s = evidence.audio_s - _MARGINS_S - _LETTER_S * len(best.said.words)
    return Signs(
        lead=min(_MOST_LEAD, lead),
        mean=best.said.score / (best.said.tokens + _DRAW),
        spare_s=min(3.0, max(0.0, spare_s)),
    )


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


def is_sure(
    evidence: Evidence,
    meaning: Meaning | None,
    prior: Prior = resting_prior,
    limits: Limits = LIMITS,
) -> bool:
    """Whether Whisper leaves no doubt of a command that makes sense now. Vosk, and grammars
    without commands, have no such limits."""
    is_whisper = evidence.engine == "whisper"
    ranked = ranking(evidence, meaning, prior) if meaning and is_whisper else []
    if not ranked:
        return False
    best, found = ranked[0][1], signs(ranked, evidence)
    is_answer = any(fact.NAME in _ANSWERS for fact in best.facts)
    floor = _ANSWER_FLOOR if is_answer else _SENSE_FLOOR * len(best.facts)
    return (
        best.prior >= floor
        and found.mean >= limits.mean
        and found.lead >= limits.lead + limits.opposite * _is_against_opposite(ranked)
        and found.spare_s <= limits.spare_s
    )


def choose(
    evidence: Evidence,
    meaning: Meaning | None,
    prior: Prior = resting_prior,
    expected: Callable[[str], bool] = lambda _words: False,
    costs: Costs = COSTS,
    weights: Weights | None = None,
    limits: Limits = LIMITS,
) -> Heard:
    """The outcome of least expected cost. Without `meaning`, words only. `expected` tells
    of words whether something like them had to come. `weights`: the recogniser's unless
    given. Nothing heard is refused."""
    weights = weights or WEIGHTS[evidence.engine]
    ranked = ranking(evidence, meaning, prior, weights)
    if not ranked:
        return Heard("", None, 0.0, "refuse", reason="nothing heard that could be a command")
    best, found = ranked[0][1], signs(ranked, evidence)
    if meaning is not None and (words := other_words(evidence, meaning)) is not None:
        return Heard(words, None, 0.0, "refuse", reason=OTHER_WORDS)
    if is_sure(evidence, meaning, prior, limits):
        meant = right = limits.chance
    else:
        meant = chance_meant(found, weights, expected=expected(best.said.words))
        right = chance_right(found, weights)
    worse = costs.opposite if _is_against_opposite(ranked) else 1.0
    outcome = _cheapest(best, meant, right, worse, costs)
    return _heard(outcome, best, [c for _, c in ranked[1:3]], meant * right, is_meant=meant >= 0.5)


def _is_against_opposite(ranked: Sequence[tuple[float, Candidate]]) -> bool:
    """Whether what comes nearest to the best candidate is its opposite: a breath is that where
    all the facts that differ are."""
    if len(ranked) < 2:
        return False
    pairs = _differing(ranked[0][1], ranked[1][1])
    return bool(pairs) and all(
        _is_command(one) and _is_command(other) and are_opposite(one, other) for one, other in pairs
    )


def _differing(best: Candidate, rival: Candidate) -> list[tuple[Fact, Fact]]:
    """The facts in which two breaths of as many facts differ."""
    if len(best.facts) != len(rival.facts):
        return []
    both = zip(best.facts, rival.facts, strict=True)
    return [(one, other) for one, other in both if one != other]


def _cheapest(best: Candidate, meant: float, right: float, worse: float, costs: Costs) -> Outcome:
    """`worse`: how much more than other mistakes the likeliest one would cost. A stressed
    read-back lets the cook catch half of the others; an opposite sounds right in it too."""
    if best.meant is None:  # bare words: there is nobody to ask
        return "accept" if meant > _BARE_ACCEPT else "refuse"
    is_record = any(changes_record(fact) for fact in best.facts)
    wrong = costs.wrong_record if is_record else costs.wrong_answer
    unmeant = (1.0 - meant) * wrong
    misheard = meant * (1.0 - right) * wrong * worse
    expected: dict[Outcome, float] = {
        "accept": misheard + unmeant,
        "stress": (misheard if worse > 1.0 else misheard / 2) + unmeant + costs.stress,
        "ask": meant * costs.question + (1.0 - meant) * costs.disturbed
        + meant * (1.0 - right) * costs.missed / 2,
        "refuse": meant * costs.missed,
    }  # fmt: skip
    return min(expected, key=expected.__getitem__)


def _heard(
    outcome: Outcome, best: Candidate, rivals: Sequence[Candidate], confidence: float, *,
    is_meant: bool,
) -> Heard:  # fmt: skip
    """What is handed on. Asked about is one command of the breath; the others are clear. A
    breath in which more is doubtful has to be said again."""
    words, understood = best.said.words, best.meant
    commands = tuple(fact for fact in best.facts if _is_command(fact))
    if outcome == "ask":
        asked = _options(best, rivals)
        clear = [one for one in commands if one not in asked]
        if asked and len(commands) == len(best.facts):
            return Heard(
                words, clear[0] if clear else None, confidence, "ask", asked,
                more=tuple(clear[1:]),
            )  # fmt: skip
        outcome = "refuse"
    if outcome == "refuse":
        reason = UNCLEAR if is_meant else "it did not sound like a command"
        return Heard(words, None, confidence, "refuse", reason=reason)
    if understood is None:
        return Heard(words, None, confidence, outcome)
    if understood.question is not None:
        asked = understood.options
        commands = tuple(one for one in commands if one not in asked)
        outcome = "ask"
    else:
        asked = ()
    return Heard(
        words, commands[0] if commands else None, confidence, outcome, asked, more=commands[1:],
        understood=understood,
    )  # fmt: skip


def _options(best: Candidate, rivals: Sequence[Candidate]) -> tuple[Command, ...]:
    """The commands to ask between: the one fact in which the nearest rival differs. Where none
    differs in just one, a lone command is asked about by itself."""
    for rival in rivals:
        pairs = _differing(best, rival)
        if len(pairs) == 1 and all(map(_is_command, pairs[0])):
            return pairs[0]  # type: ignore[return-value]
    return tuple(filter(_is_command, best.facts)) if len(best.facts) == 1 else ()


def _sigmoid(x: float) -> float:
    return 1.0 / (1.0 + math.exp(-max(-50.0, min(50.0, x))))
