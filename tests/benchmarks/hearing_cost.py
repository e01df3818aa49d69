"""What hearing costs: seconds of compute, how soon it decides, memory.

`python -m tests.benchmarks.hearing_cost` prints these alone.
"""

import argparse
import os
import statistics
from collections.abc import Sequence

import psutil

from assistant.ears.ears import Ears
from assistant.ears.spotter import Spotter
from assistant.grammar.grammar import ADDRESS, pronunciations
from assistant.sound.samples import Samples
from tests.benchmarks import corpora
from tests.benchmarks.corpora import TEST
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_evidence import Item, Tried
from tests.benchmarks.hearing_live import room

FAST_COUNT, FULL_COUNT = 8, 40
MEMORY_AFTER = 6
"""Utterances heard before memory is read."""


def spread(seconds: Sequence[float]) -> str:
    """Median and 95th percentile."""
    ranked = sorted(seconds)
    if not ranked:
        return "none"
    high = ranked[min(len(ranked) - 1, int(0.95 * len(ranked)))]
    middle = statistics.median(ranked)
    return f"median {middle:.2f} s, 95th percentile {high:.2f} s (n = {len(ranked)})"


def print_cost(heard: list[Tried], ears: Ears | None, *, judge: bool | None, full: bool) -> None:
    """Print all three; `heard` are commands and `ears` those that heard them, which may be
    closed by now."""
    print(f"\n## What it costs ({os.cpu_count()} cores)")
    if heard and ears:
        spent = [one.reached(ears).compute_s for one in heard]
        whole = [one.evidence.compute_s for one in heard]
        length_s = statistics.mean(one.evidence.audio_s for one in heard)
        print(f"- an utterance of {length_s:.1f} s, nothing decoded ahead: {spread(spent)}")
        print(f"- the same, both listeners asked for all they can say: {spread(whole)}")
    count = FULL_COUNT if full else FAST_COUNT
    items = corpora.spoken_commands(count, TEST)
    for label, spoken in (("clean", items), ("10 dB", corpora.in_noise(items, 10))):
        found = decision_delays(spoken, judge)
        print(f"- from the last sound of speech to the decision, live, {label}: {spread(found)}")
    for name, with_judge in (("without the second listener", False), ("all ears", judge)):
        print(f"- memory, {name}: {memory_mb([i.make() for i in items], with_judge):.0f} MB")


def decision_delays(items: list[Item], judge: bool | None) -> list[float]:
    """Seconds from the last sound of speech to the decision of the live loop, which
    decodes while it waits out the pause; an utterance cut in two counts with both."""
    found: list[float] = []
    with room(judge) as one:
        one.speak(items[0].make())  # models are warm afterwards
        for item in items:
            turns = one.speak(item.make())
            found += [turn.decided_s - turn.speech_end_s for turn in turns]
    return found


def memory_mb(utterances: list[Samples], judge: bool | None) -> float:
    """Proportional set size of the ears' child processes (engine, judge, spotter)
    together, after some utterances."""
    before = {child.pid for child in psutil.Process().children(recursive=True)}
    ears = Ears(TONIGHT, engine="whisper", judge=judge)
    spotter = Spotter(ADDRESS, pronunciations().get(ADDRESS, ""))
    try:
        for samples in utterances[:MEMORY_AFTER]:
            ears.listen(samples)
        children = psutil.Process().children(recursive=True)
        own = [child for child in children if child.pid not in before]
        return sum(child.memory_full_info().pss for child in own) / 2**20
    finally:
        spotter.close()
        ears.close()


def main() -> None:
    """Print the costs."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--full", action="store_true", help="more utterances")
    parser.add_argument("--no-judge", action="store_true", help="PocketSphinx alone")
    asked = parser.parse_args()
    print_cost([], None, judge=False if asked.no_judge else None, full=asked.full)


if __name__ == "__main__":
    main()
