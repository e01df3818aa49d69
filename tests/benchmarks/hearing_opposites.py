"""Commands that noise turns into their opposite: `python -m tests.benchmarks.hearing_opposites`.

Lid off and on, birds on and off, and a teen for its ten, by voices never fitted on, in every
noise in turn. Each choice is made twice from the same evidence: with every mistake costing
alike, and with the opposite costing more and needing a larger lead (weights.py). Percent.
"""

import argparse
from dataclasses import replace
from functools import partial

from assistant.ears.choice import choose
from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.ears.opposites import are_opposite
from assistant.ears.weights import COSTS
from tests.benchmarks.corpora import TEST, in_noise, number_pairs
from tests.benchmarks.corpus import NEVER_FITTED, say, voices
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_evidence import Item, tried
from tests.benchmarks.hearing_tally import command_in

SAID = (
    "lid off", "lid on", "the lid is off", "the lid is on", "birds on", "birds off",
    "bird two is on", "bird two is off", "bird one is back on", "lid shut",
)  # fmt: skip
ALIKE = replace(COSTS, opposite=1.0)


def items(ears: Ears, count: int) -> list[Item]:
    """So many of both kinds."""
    spoken = voices(NEVER_FITTED[:4])
    short = [
        Item(f"{voice}|{words}", partial(say, words, voice), command_in(ears, words), voice)
        for n in range(count)
        if (voice := spoken[(n + n // len(SAID)) % len(spoken)]) and (words := SAID[n % len(SAID)])
    ]
    pairs = [one for one in number_pairs(4 * count, TEST) if one.group in spoken]
    return [*short, *pairs[:count]]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=30)
    asked = parser.parse_args()
    ears = Ears(TONIGHT, engine="whisper")
    said = items(ears, asked.count)
    print("| noise | n | mistakes cost | right | asked | refused | the opposite | other wrong |")
    print("|---|---|---|---|---|---|---|---|")
    for level in (10, 5):
        heard = list(tried(ears, in_noise(said, level), "opposites"))
        for label, costs in (("alike", ALIKE), ("by kind", COSTS)):
            row = dict.fromkeys(("right", "ask", "refuse", "opposite", "other"), 0)
            for one in heard:
                found = choose(one.evidence, ears.meaning, costs=costs)
                row[_what(found, one.item)] += 1
            cells = " | ".join(f"{100 * n / len(heard):.1f}" for n in row.values())
            print(f"| {level} dB | {len(heard)} | {label} | {cells} |", flush=True)
    ears.close()


def _what(heard: Heard, item: Item) -> str:
    truth = item.truth
    if heard.outcome in ("ask", "refuse"):
        return heard.outcome
    if heard.command == truth:
        return "right"
    is_known = heard.command is not None and truth is not None and not isinstance(truth, str)
    return "opposite" if is_known and are_opposite(heard.command, truth) else "other"  # type: ignore[arg-type]


if __name__ == "__main__":
    main()
