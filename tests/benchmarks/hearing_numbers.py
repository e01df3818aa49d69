"""Numbers said by people nobody fitted on: `python -m tests.benchmarks.hearing_numbers`.

Recordings of AN4, every other speaker, under a grammar of any run of number words (harder than
any reading: nothing tells how long it is, and no cook expects it). Noise: the recorded kitchen
by mean power. Percent, 95 % intervals (Wilson) in brackets.
"""

import argparse
from functools import partial
from pathlib import Path

from assistant.ears.ears import Ears
from assistant.sound.files import read_sound
from tests.benchmarks.corpora import in_noise
from tests.benchmarks.corpora_people import recorded
from tests.benchmarks.hearing_evidence import Item, utterance
from tests.benchmarks.hearing_tally import rate

GRAMMAR = Path(__file__).parent / "grammars" / "numbers.jsgf"


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
    print("| noise | n | right | silent wrong | refused |\n|---|---|---|---|---|")
    for label, items in (
        ("clean", said), ("kitchen 10 dB", in_noise(said, 10, ("kitchen",))),
        ("kitchen 5 dB", in_noise(said, 5, ("kitchen",))),
    ):  # fmt: skip
        tally = {"right": 0, "wrong": 0, "refused": 0}
        for item in items:
            heard = ears.hear(utterance(item))
            is_right = heard.words == item.truth
            refused = heard.outcome == "refuse"
            tally["refused" if refused else "right" if is_right else "wrong"] += 1
        cells = " | ".join(rate(n, len(items)) for n in tally.values())
        print(f"| {label} | {len(items)} | {cells} |", flush=True)
    ears.close()


if __name__ == "__main__":
    main()
