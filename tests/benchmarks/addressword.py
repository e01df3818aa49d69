"""Which address word: `python -m tests.benchmarks.addressword [--count N]`.

For every candidate: how often an addressed command is taken (its words open with the
address and the outcome is not a refusal), clean and at 10 dB, and how often table talk
is taken for an addressed command. All candidates must be in the dictionary already.
"""

import argparse
from functools import partial

from assistant.ears.ears import Ears
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT
from tests.benchmarks.corpus import say
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing import rate
from tests.benchmarks.hearing_evidence import Item, tried

CANDIDATES = ("juniper", "okay charcoal", "rosemary", "peppercorn")


def addressed(items: list[Item], word: str) -> list[Item]:
    """The same commands opened by `word`."""
    made = []
    for item in items:
        voice, words = item.key.split("|")
        said = f"{word} {words}"
        made.append(Item(f"{voice}|{said}", partial(say, said, voice), item.truth, voice))
    return made


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=30)
    asked = parser.parse_args()
    commands = corpora.spoken_commands(asked.count, DEVELOPMENT)
    talk = corpora.talk(asked.count, DEVELOPMENT)
    print(
        "| address | addressed commands taken, clean | at 10 dB | talk taken |\n|---|---|---|---|"
    )
    for word in CANDIDATES:
        ears = Ears(TONIGHT, engine="whisper", address=word)
        spoken = addressed(commands, word)
        shares = []
        for items in (spoken, corpora.in_noise(spoken, 10), talk):
            outcomes = [
                one.decided(ears, address_required=True).outcome
                for one in tried(ears, items, f"address {word}")
            ]
            shares.append(rate(sum(o != "refuse" for o in outcomes), len(outcomes)))
        ears.close()
        print(f"| {word} | {' | '.join(shares)} |", flush=True)


if __name__ == "__main__":
    main()
