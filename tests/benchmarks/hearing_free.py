"""Sentences in cooks' own words, spoken: `python -m tests.benchmarks.hearing_free [--count N]`.

The lines are those of the folder `phrases` beside the recordings (invented cooks who never saw
the grammar; said to others where their situation is S16), each after the address word; where
there is no such folder, sentences of `tests/fitting/free_speech.txt` from a seed nobody trained
on. The voices were never fitted on; those and the lines of `--development`, on which choices are
made, are others. Noise is added by mean power, each kind in turn.

"wording": the likeliest wording is the very words; "word errors": of that wording, by words.
"right": taken as the same line means when it is typed, or refused where it means nothing typed
or was said to others. "refused": not taken, though it means something. "bent": taken, but as
something else than the typed line means, or where that means nothing.
"""

import argparse
import random
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field, replace
from functools import partial

from assistant.ears.ears import Ears
from assistant.ears.evidence import Evidence
from assistant.grammar.free.context import Understood, tonight
from assistant.grammar.free.understand import understand
from assistant.grammar.grammar import ADDRESS, Names, strip_address
from assistant.grammar.parse import NotUnderstood, parse
from tests.benchmarks.corpora import in_noise
from tests.benchmarks.corpus import NATURAL, NEVER_FITTED, RECORDINGS, ROBOTIC, say, voices
from tests.benchmarks.hearing_evidence import Item, tried
from tests.fitting import kokoro
from tests.fitting.free_speech import free_speech

SEED = 2027
TONIGHT = Names(4, ("apricot", "harissa"))


@dataclass
class Counted:
    """What became of the lines of one row."""

    n: int = 0
    wording: int = 0
    words: int = 0
    errors: int = 0
    outcomes: dict[str, int] = field(default_factory=dict)

    def cells(self) -> Iterator[str]:
        """The row's figures in percent."""
        yield str(self.n)
        yield f"{100 * self.wording / max(1, self.n):.0f}"
        yield f"{100 * self.errors / max(1, self.words):.1f}"
        for outcome in ("right", "ask", "refuse", "bent"):
            yield f"{100 * self.outcomes.get(outcome, 0) / max(1, self.n):.1f}"


def lines(count: int, *, development: bool = False) -> list[str]:
    """What is said, with the address word where it is meant for the program; for development
    the other end of the same shuffled lines."""
    kept = [
        row.split("\t")
        for path in sorted((RECORDINGS.parent / "phrases").glob("*.tsv"))
        for row in path.read_text().splitlines()[1:]
    ]
    rng = random.Random(SEED + development)
    if not kept:
        return [free_speech(rng) for _ in range(count)]
    shuffled = random.Random(SEED).sample(kept, len(kept))
    rows = (shuffled[::-1] if development else shuffled)[:count]
    return [row[3] if row[2] == "S16" else f"{ADDRESS} {row[3]}" for row in rows]


def items(count: int, *, development: bool = False) -> list[Item]:
    """The lines, each by the next voice."""
    kept = (*NEVER_FITTED, *kokoro.NEVER_FITTED)
    heard = (*(voice for voice in NATURAL if voice not in kept), *kokoro.DEVELOPMENT)
    spoken = voices(heard if development else tuple(v for v in kept if v not in ROBOTIC))
    return [
        Item(f"{voice}|{words}", partial(say, words, voice), words, voice)
        for n, words in enumerate(lines(count, development=development))
        if (voice := spoken[n % len(spoken)])
    ]


def counted(ears: Ears, said: list[Item]) -> Counted:
    """Hear them all."""
    row = Counted()
    for one in tried(ears, said, "free"):
        words = str(one.item.truth)
        evidence = one.evidence
        wording = likeliest(evidence)
        row.n += 1
        row.wording += wording == words
        row.words += len(words.split())
        row.errors += word_errors(words.split(), wording.split())
        typed = typed_meaning(words)
        heard = ears.decide(evidence, address_required=True)
        outcome: str = heard.outcome
        if heard.understood is not None:  # believed, though it may ask what was left unsaid
            outcome = "right" if heard.understood == typed else "bent"
        elif outcome == "refuse" and typed is None:
            outcome = "right"
        row.outcomes[outcome] = row.outcomes.get(outcome, 0) + 1
    return row


def typed_meaning(words: str) -> Understood | None:
    """What the addressed line means when it is typed; None for nothing, or said to others."""
    meant = strip_address(words, ADDRESS)
    if not meant:
        return None
    with suppress(NotUnderstood):
        return Understood((parse(meant, TONIGHT),), "accept")
    found = understand(meant, tonight(TONIGHT.birds, TONIGHT.sauces))
    return replace(found, cost=0.0) if found.outcome != "refuse" else None


def likeliest(evidence: Evidence) -> str:
    """The wording that explains the sound best."""
    scored = (*evidence.free, *evidence.sentences)
    return max(scored, key=lambda one: one.score).words if scored else ""


def word_errors(said: list[str], heard: list[str]) -> int:
    """Words put in, left out or changed (Levenshtein's distance)."""
    row = list(range(len(heard) + 1))
    for n, word in enumerate(said, 1):
        above, row[0] = row[:], n
        for m, other in enumerate(heard, 1):
            row[m] = min(above[m] + 1, row[m - 1] + 1, above[m - 1] + (word != other))
    return row[-1]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=60)
    parser.add_argument("--development", action="store_true", help="voices that were fitted on")
    asked = parser.parse_args()
    ears = Ears(TONIGHT, engine="whisper")
    said = items(asked.count, development=asked.development)
    columns = ("noise", "n", "wording", "word errors", "right", "asked", "refused", "bent")
    print(f"| {' | '.join(columns)} |\n|{'---|' * len(columns)}")
    for label, part in (
        ("clean", said), ("20 dB", in_noise(said, 20)), ("10 dB", in_noise(said, 10)),
    ):  # fmt: skip
        print(f"| {label} | {' | '.join(counted(ears, part).cells())} |", flush=True)
    ears.close()


if __name__ == "__main__":
    main()
