"""Numbers said by people nobody fitted on: `python -m tests.benchmarks.hearing_numbers`.

Recordings of AN4, every other speaker, under a grammar of any run of number words (harder than
any reading: nothing tells how long it is, and no cook expects it). Noise: the recorded kitchen
by mean power. Percent, 95 % intervals (Wilson) in brackets. "after a question": the right words
were taken, or are one of the two that are asked about.
"""

import argparse
from functools import partial
from pathlib import Path

from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.sound.files import read_sound
from tests.benchmarks.corpora import in_noise
from tests.benchmarks.corpora_people import recorded
from tests.benchmarks.hearing_evidence import Item, utterance
from tests.benchmarks.hearing_tally import rate

GRAMMAR = Path(__file__).parent / "grammars" / "numbers.jsgf"


def offered(heard: Heard) -> list[str]:
    """The words that are asked about."""
    question = heard.understood.question if heard.understood is not None else None
    return question.rstrip("?").split(", or ") if question is not None else []


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=200)
    asked = parser.parse_args()
    said = [
        Item(one.path.name, partial(read_sound, one.path), one.words, one.speaker)
        for one in recorded("an4")[: asked.count]
    ]
    ears = Ears(jsgf=GRAMMAR.read_text(), engine="whisper")
    columns = ("noise", "n", "right", "right after a question", "silent wrong", "asked", "refused")
    print(f"| {' | '.join(columns)} |\n|{'---|' * len(columns)}")
    for label, items in (
        ("clean", said), ("kitchen 10 dB", in_noise(said, 10, ("kitchen",))),
        ("kitchen 5 dB", in_noise(said, 5, ("kitchen",))),
    ):  # fmt: skip
        tally = dict.fromkeys(("right", "in the end", "wrong", "ask", "refuse"), 0)
        for item in items:
            heard = ears.hear(utterance(item))
            is_right, is_taken = heard.words == item.truth, heard.outcome == "accept"
            tally["right" if is_taken and is_right else "wrong" if is_taken else heard.outcome] += 1
            tally["in the end"] += (is_taken and is_right) or item.truth in offered(heard)
        cells = " | ".join(rate(n, len(items)) for n in tally.values())
        print(f"| {label} | {len(items)} | {cells} |", flush=True)
    ears.close()


if __name__ == "__main__":
    main()
