"""What each part of hearing is worth: `python -m tests.benchmarks.hearing_parts`.

Development commands (clean and in the noises of the place; by voices the second listener
was not fitted on) and development talk, heard once with everything; a configuration is
another decision about what was kept, with parts left out. First the parts are added one
by one, then each is taken away from the whole.
Every configuration's weights are fitted anew (as hearing_fit.py does) on half of the
utterances and tried on the other half, both ways round, so that none is judged by weights
made for another. Cells: exact / exact after at most one ask-back / silent wrong number /
silent wrong of any kind, in percent.

To add a row that needs other listening (another model, other settings), give it a `tag`
of its own and `ears` that listen in that way.
"""

import argparse
from collections.abc import Callable
from dataclasses import dataclass, replace

from assistant.cook.commands import BirdReading, Command
from assistant.ears.choice import choose, resting_prior
from assistant.ears.ears import Ears
from assistant.ears.engine import CLEANED
from assistant.ears.evidence import Evidence
from assistant.ears.heard import Heard, Prior
from assistant.ears.neighbours import neighbours
from assistant.ears.weights import WITH_JUDGE, WITHOUT_JUDGE, Weights
from assistant.grammar.grammar import ADDRESS
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import NATURAL, NEVER_FITTED
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_baseline import Baseline
from tests.benchmarks.hearing_evidence import Item, Tried, tried, utterance
from tests.benchmarks.hearing_fit import candidate_weights, trust_weights
from tests.benchmarks.hearing_priors import prior_when
from tests.benchmarks.hearing_tally import TalkTally, Tally

LEVELS = (20, 10, 5)
Part = Callable[[Evidence], Evidence]


def made_ears() -> Ears:
    """The ears as they are."""
    return Ears(TONIGHT, engine="sphinx")


def unfitted_ears() -> Ears:
    """The same with the second listener's model as it came."""
    return Ears(TONIGHT, engine="sphinx", is_fitted=False)


@dataclass(frozen=True)
class Configuration:
    """What is left out of the evidence, and whether the cook's prior takes part. `tag`
    and `ears` say who listened."""

    name: str
    without: tuple[Part, ...] = ()
    prior: bool = False
    tag: str = "cook"
    ears: Callable[[], Ears] = made_ears

    def seen(self, evidence: Evidence) -> Evidence:
        """The evidence as far as this configuration has it."""
        for leave_out in self.without:
            evidence = leave_out(evidence)
        return evidence


def cleaned(evidence: Evidence) -> Evidence:
    """Leave out noise suppression. The ratio stays where the plain sound has one."""
    kept = [h for h in evidence.hypotheses if not h.engine.endswith(CLEANED)]
    return replace(evidence, hypotheses=tuple(kept))


def ratio(evidence: Evidence) -> Evidence:
    """Leave out the comparison with a loop of phones."""
    return replace(evidence, hypotheses=tuple(replace(h, ratio=None) for h in evidence.hypotheses))


def judge(evidence: Evidence) -> Evidence:
    """Leave out the second listener."""
    return replace(evidence, judged=())


def first_listener(evidence: Evidence) -> Evidence:
    """Leave out PocketSphinx: the second listener's own candidates only."""
    return replace(evidence, hypotheses=())


def sound_alikes(evidence: Evidence) -> Evidence:
    """Leave out the sentences that were scored only for sounding like a leader: those
    after the search's own, which come best first."""
    if not evidence.judged:
        return evidence
    heard = {h.words for h in evidence.hypotheses}
    leaders = (evidence.judged[0].words, *heard)
    alike = {other for words in leaders for other in neighbours(words, lambda _: True)} - heard
    judged = list(evidence.judged)
    while judged and (judged[-1].words in alike or judged[-1].words in heard):
        judged.pop()
    searched = {one.words for one in judged}
    kept = [one for one in evidence.judged if one.words in searched or one.words in heard]
    return replace(evidence, judged=tuple(kept))


_PARTS: tuple[tuple[str, Part], ...] = (
    ("phone-loop ratio", ratio),
    ("RNNoise", cleaned),
    ("second listener", judge),
    ("sound-alike numbers", sound_alikes),
)


def configurations() -> list[Configuration]:
    """Built up part by part, then the whole without each one."""
    rows = [Configuration("the choice over the plain decode", tuple(p for _, p in _PARTS))]
    for n, (name, _) in enumerate(_PARTS, 1):
        rows.append(Configuration(f"+ {name}", tuple(part for _, part in _PARTS[n:])))
    rows.append(Configuration("+ the cook's prior: everything", prior=True))
    for name, part in (*_PARTS, ("PocketSphinx", first_listener)):
        rows.append(Configuration(f"everything without {name}", (part,), prior=True))
    rows.append(
        Configuration(
            "everything, the second listener as it came", (), True, "cook unfitted", unfitted_ears
        )
    )
    return rows


def fitted(ears: Ears, commands: list[Tried], talk: list[Tried]) -> Weights:
    """Weights for evidence of this kind."""
    if any(one.evidence.judged for one in commands):
        weights = candidate_weights(ears, commands, WITH_JUDGE)
    else:
        weights = WITHOUT_JUDGE
    return trust_weights(ears, commands, talk, weights)


def prior_of(truth: Command, *, takes_part: bool) -> Prior:
    """The prior of a cook that expects the reading; of other commands nothing is known."""
    if takes_part and isinstance(truth, BirdReading):
        return prior_when(truth, 0.0)
    return resting_prior


def decided(ears: Ears, evidence: Evidence, prior: Prior, weights: Weights) -> Heard:
    """The choice with the weights of the configuration."""
    return choose(
        evidence, ears.meaning, prior, lambda words: words.startswith(f"{ADDRESS} "),
        weights=weights,
    )  # fmt: skip


@dataclass
class Corpora:
    """What is heard: commands by condition, and talk."""

    commands: dict[str, list[Item]]
    talk: list[Item]

    @classmethod
    def development(cls, count: int) -> "Corpora":
        """The development seed's."""
        unheard = tuple(voice for voice in NATURAL if voice in NEVER_FITTED)
        said = corpora.spoken_commands(count, DEVELOPMENT, unheard)
        noisy = {f"{level} dB": corpora.in_noise(said, level) for level in LEVELS}
        talk = [
            *corpora.invented_talk(count // 2, DEVELOPMENT),
            *corpora.human_talk(count // 4, development=True),
        ]
        return cls({"clean": said, **noisy}, talk)


def row(configuration: Configuration, ears: Ears, heard: Corpora) -> str:
    """One line of the table."""
    commands = {
        label: [_seen(configuration, one) for one in tried(ears, items, configuration.tag)]
        for label, items in heard.commands.items()
    }
    talk = [_seen(configuration, one) for one in tried(ears, heard.talk, configuration.tag)]
    tallies, talked = {label: Tally() for label in commands}, TalkTally(1.0, 1.0)
    for half in (0, 1):
        told = [one for part in commands.values() for one in part[half::2]]
        weights = fitted(ears, told, talk[half::2])
        for label, part in commands.items():
            for one in part[1 - half :: 2]:
                truth = one.item.truth
                assert truth is not None
                assert not isinstance(truth, str)
                prior = prior_of(truth, takes_part=configuration.prior)
                tallies[label].add(decided(ears, one.evidence, prior, weights), None, truth)
        for one in talk[1 - half :: 2]:
            talked.add(decided(ears, one.evidence, resting_prior, weights), None)
    return _line(configuration.name, list(tallies.values()), f"{talked.record} of {len(talk)}")


def _seen(configuration: Configuration, one: Tried) -> Tried:
    return replace(one, stages=(configuration.seen(one.evidence),))


def plain_row(name: str, ears: Ears, heard: Corpora, *, whole: bool) -> str:
    """The baseline, on the whole recording or on its spoken span."""
    baseline, tallies = Baseline.for_cook(TONIGHT), []
    for items in heard.commands.values():
        tally = Tally()
        for item in items:
            words = _plain(baseline, item, whole=whole)
            command = ears.meaning(words)
            outcome = "refuse" if command is None else "accept"
            assert item.truth is not None
            assert not isinstance(item.truth, str)
            tally.add(Heard(words, command, 1.0, outcome), command, item.truth)
        tallies.append(tally)
    taken = sum(
        ears.meaning(_plain(baseline, item, whole=whole)) is not None for item in heard.talk
    )
    return _line(name, tallies, f"{taken} of {len(heard.talk)}")


def _plain(baseline: Baseline, item: Item, *, whole: bool) -> str:
    key = f"{item.key} (whole)" if whole else item.key
    kept = baseline.kept(key)
    if kept is None:
        kept = baseline.words(key, item.make() if whole else utterance(item))
    return kept


def _line(name: str, tallies: list[Tally], talk: str) -> str:
    cells = [
        " / ".join(
            f"{100 * count / max(1, t.n):.0f}"
            for count in (t.exact, t.asked_right, t.silent_number, t.silent_wrong)
        )
        for t in tallies
    ]
    return f"| {name} | {' | '.join(cells)} | {talk} |"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=50, help="commands in each condition")
    asked = parser.parse_args()
    heard = Corpora.development(asked.count)
    columns = ("what hears", *heard.commands, "talk taken")
    print(
        f"n = {asked.count} each; exact / after at most one ask-back / silent wrong number / any\n"
    )
    print(f"| {' | '.join(columns)} |\n|{'---|' * len(columns)}", flush=True)
    ears = made_ears()
    print(plain_row("plain grammar, the whole recording", ears, heard, whole=True), flush=True)
    print(plain_row("+ end by voice activity", ears, heard, whole=False), flush=True)
    for configuration in configurations():
        if configuration.ears is made_ears:
            print(row(configuration, ears, heard), flush=True)
            continue
        other = configuration.ears()
        print(row(configuration, other, heard), flush=True)
        other.close()
    ears.close()


if __name__ == "__main__":
    main()
