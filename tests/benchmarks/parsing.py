"""How long a command takes to parse: `python -m tests.benchmarks.parsing`.

Random sentences of the whole grammar, numbers in every form; and the same with a
word that does not belong, which has to be refused.
"""

import random
import time

import numpy as np

from assistant.grammar.grammar import Names, random_sentence
from assistant.grammar.parse import NotUnderstood, parse

SENTENCES = 5000
TONIGHT = Names(3, ("apricot", "harissa"))


def timed(sentences: list[str]) -> tuple[np.ndarray, int]:
    """Milliseconds of processor time of each parse, and how many were understood."""
    took, understood = [], 0
    for words in sentences:
        began = time.process_time()
        try:
            parse(words, TONIGHT)
            understood += 1
        except NotUnderstood:
            pass
        took.append(1000 * (time.process_time() - began))
    return np.array(took), understood


def main() -> None:
    """Print mean, 99th percentile and worst."""
    rng = random.Random(1)
    good = [random_sentence(rng, TONIGHT) for _ in range(SENTENCES)]
    bad = []
    for words in good:
        parts = words.split()
        parts.insert(rng.randrange(len(parts) + 1), "lantern")
        bad.append(" ".join(parts))
    parse("lid off", TONIGHT)
    for name, sentences in (("sentences of the grammar", good), ("with a stray word", bad)):
        took, understood = timed(sentences)
        print(
            f"{name}: {understood} of {len(sentences)} understood; mean {took.mean():.2f} ms,"
            f" 99 % within {np.quantile(took, 0.99):.2f} ms, worst {took.max():.2f} ms"
        )


if __name__ == "__main__":
    main()
