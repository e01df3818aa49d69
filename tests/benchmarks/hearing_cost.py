"""What hearing costs: seconds of compute, how soon it decides, memory.

`python -m tests.benchmarks.hearing_cost` prints these alone.
"""

import argparse
import os
import statistics
from collections.abc import Sequence

import psutil

from assistant.ears.ears import Ears
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


def print_cost(heard: list[Tried], *, full: bool) -> None:
    """Print all three; `heard` are commands."""
    print(f"\n## What it costs ({os.cpu_count()} cores)")
    if heard:
        spent = [one.evidence.compute_s for one in heard]
        length_s = statistics.mean(one.evidence.audio_s for one in heard)
        print(f"- an utterance of {length_s:.1f} s, nothing decoded ahead: {spread(spent)}")
    count = FULL_COUNT if full else FAST_COUNT
    items = corpora.spoken_commands(count, TEST)
    for label, spoken in (("clean", items), ("10 dB", corpora.in_noise(items, 10))):
        found = decision_delays(spoken)
        print(f"- from the last sound of speech to the decision, live, {label}: {spread(found)}")
    print(f"- memory of the ears: {memory_mb([i.make() for i in items]):.0f} MB")


def decision_delays(items: list[Item]) -> list[float]:
    """Seconds from the last sound of speech to the decision of the live loop, which
    decodes while it waits out the pause; an utterance cut in two counts with both."""
    found: list[float] = []
    with room() as one:
        one.speak(items[0].make())  # models are warm afterwards
        for item in items:
            turns = one.speak(item.make())
            found += [turn.decided_s - turn.speech_end_s for turn in turns]
    return found


def memory_mb(utterances: list[Samples]) -> float:
    """Proportional set size of the ears' child process, after some utterances."""
    before = {child.pid for child in psutil.Process().children(recursive=True)}
    ears = Ears(TONIGHT, engine="whisper")
    try:
        for samples in utterances[:MEMORY_AFTER]:
            ears.listen(samples)
        children = psutil.Process().children(recursive=True)
        own = [child for child in children if child.pid not in before]
        return sum(child.memory_full_info().pss for child in own) / 2**20
    finally:
        ears.close()


def main() -> None:
    """Print the costs."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--full", action="store_true", help="more utterances")
    asked = parser.parse_args()
    print_cost([], full=asked.full)


if __name__ == "__main__":
    main()
