"""The choice: which command was meant, and whether to take it, stress it, ask or refuse.

Every candidate is a meaning: the facts of a breath, or bare words where there are no commands.
Its evidence is the recogniser's score of the very words, and how plausible the cook makes
it now.
"""

from collections.abc import Callable, Sequence
from dataclasses import replace

from assistant.cook.vocabulary.commands import Command
from assistant.ears.candidates import (
    Candidate,
    Signs,
    chance_meant,
    chance_right,
    is_command,
    lead_over,
    ranking,
    resting_prior,
    signs,
)
from assistant.ears.evidence import OTHER_WORDS, Evidence, Meaning, other_words
from assistant.ears.heard import Heard, Outcome, Prior
from assistant.ears.neighbours import numbers_of
from assistant.ears.opposites import are_opposite
from assistant.ears.weights import COSTS, WEIGHTS, Costs, Weights
from assistant.grammar.free.context import Understood
from assistant.grammar.free.open_facts import Fact

UNCLEAR = "it was not clear enough"
"""Why something that was probably meant as a command is refused."""
_BARE_ACCEPT = 0.05
"""Words without commands are printed unless it is this unlikely that they were meant."""

_HARMLESS = frozenset({
    "acknowledge", "ask_when", "ask_next", "ask_elapsed", "ask_last", "ask_fire", "ask_sauce",
    "ask_left", "ask_why", "ask_heard", "ask_help", "ask_what_if", "ask_time", "ask_status",
    "ask_leftovers",
    "repeat", "quieter", "louder", "hush", "wake", "snooze",
})  # fmt: skip


def changes_record(fact: Fact | None) -> bool:
    """Whether acting on it wrongly would leave a trace."""
    return fact is None or fact.NAME not in _HARMLESS


def choose(
    evidence: Evidence,
    meaning: Meaning | None,
    prior: Prior = resting_prior,
    expected: Callable[[str], bool] = lambda _words: False,
    costs: Costs = COSTS,
    weights: Weights | None = None,
) -> Heard:
    """The outcome of least expected cost. Without `meaning`, words only. `expected` tells
    of words whether something like them had to come. `weights`: the recogniser's unless
    given. Nothing heard is refused."""
    weights = weights or WEIGHTS[evidence.engine]
    ranked = ranking(evidence, meaning, prior, weights)
    if not ranked:
        return Heard("", None, 0.0, "refuse", reason="nothing heard that could be a command")
    best, found = ranked[0][1], signs(ranked)
    if meaning is None:
        return _bare(ranked, found, weights, costs)
    if (words := other_words(evidence, meaning)) is not None:
        return Heard(words, None, 0.0, "refuse", reason=OTHER_WORDS)
    meant = chance_meant(found, weights, expected=expected(best.said.words))
    right = chance_right(found, weights)
    is_own = best.said.words not in {one.words for one in evidence.sentences}
    worse = costs.own_words if is_own else 1.0
    worse = costs.opposite if _is_against_opposite(ranked) else worse
    outcome = _cheapest(best, meant, right, worse, costs)
    return _heard(outcome, best, [c for _, c in ranked[1:3]], meant * right, is_meant=meant >= 0.5)


def _bare(
    ranked: Sequence[tuple[float, Candidate]], found: Signs, weights: Weights, costs: Costs
) -> Heard:
    """Words by a grammar without commands. They are asked about where others with other numbers
    come near: of all words those are mistaken most easily, and noticed least."""
    words, meant = ranked[0][1].said.words, chance_meant(found, weights)
    others = [pair for pair in ranked if numbers_of(pair[1].said.words) != numbers_of(words)]
    against = replace(found, lead=lead_over(ranked[0][0], [score for score, _ in others]))
    right = chance_right(against, weights)
    if meant <= _BARE_ACCEPT:
        return Heard(words, None, meant * right, "refuse", reason="it did not sound like a command")
    if others and (1.0 - right) * costs.wrong_number > costs.question:
        asked = f"{words}, or {others[0][1].said.words}?"
        return Heard(words, None, meant * right, "ask", understood=Understood((), "ask", asked))
    return Heard(words, None, meant * right, "accept")


def _is_against_opposite(ranked: Sequence[tuple[float, Candidate]]) -> bool:
    """Whether what comes nearest to the best candidate is its opposite: a breath is that where
    all the facts that differ are."""
    if len(ranked) < 2:
        return False
    pairs = _differing(ranked[0][1], ranked[1][1])
    return bool(pairs) and all(
        is_command(one) and is_command(other) and are_opposite(one, other) for one, other in pairs
    )


def _differing(best: Candidate, rival: Candidate) -> list[tuple[Fact, Fact]]:
    """The facts in which two breaths of as many facts differ."""
    if len(best.facts) != len(rival.facts):
        return []
    both = zip(best.facts, rival.facts, strict=True)
    return [(one, other) for one, other in both if one != other]


def _cheapest(best: Candidate, meant: float, right: float, worse: float, costs: Costs) -> Outcome:
    """`worse`: how much more than other mistakes the likeliest one would cost. A stressed
    read-back lets the cook catch half of the others; an opposite sounds right in it too, and
    in a cook's own words it need not be the stressed value that was misheard."""
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
    commands = tuple(fact for fact in best.facts if is_command(fact))
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
    assert understood is not None
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
        if len(pairs) == 1 and all(map(is_command, pairs[0])):
            return pairs[0]  # type: ignore[return-value]
    return tuple(filter(is_command, best.facts)) if len(best.facts) == 1 else ()
