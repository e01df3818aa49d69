"""What the training voices say: commands of the grammar, commands in a cook's own words,
numbers by themselves, and talk about anything.

No sentence of more than three words that the development or the test corpora say is
among them, nor one of the cooks' lines in the folder `phrases` beside the recordings;
"undo" and "next" cannot be avoided. Talk comes from the texts of Debian's package
`fortunes`, and from `free_speech.py`.
"""

import json
import random
import re
from collections.abc import Callable
from dataclasses import asdict, dataclass
from functools import cache
from pathlib import Path

from assistant.grammar.grammar import ADDRESS, Names, command_names, random_sentence
from tests.benchmarks.corpora import DEVELOPMENT, MOST, TEST, spoken_sentences
from tests.benchmarks.corpus import RECORDINGS, ROBOTIC
from tests.benchmarks.corpus_commands import commands, grill, minimal_pairs, reading
from tests.fitting.free_speech import free_speech, free_talk, number_string

SEED = 31337
COMMANDS, FREE, NUMBERS, TALK = 3600, 9000, 2500, 1800
SHARES = {"commands": 0.2, "free": 0.5, "numbers": 0.17, "talk": 0.13}
"""How often each kind is said."""
FORTUNES = Path("/usr/share/games/fortunes")
_SAUCES = (("apricot", "harissa"), ("lemon", "smoke"), ("honey", "garlic"), ("mustard", "chili"))
_NAMES = tuple(Names(birds=birds, sauces=pair) for birds in (2, 3, 4, 6) for pair in _SAUCES)
_READINGS = ("bird_reading", "grill_reading")
_OTHERS = tuple(name for name in command_names() if name not in _READINGS)


@dataclass(frozen=True)
class Sentences:
    """What is to be said, in lower-case words."""

    commands: tuple[str, ...]
    talk: tuple[str, ...]
    free: tuple[str, ...] = ()
    numbers: tuple[str, ...] = ()

    def one(self, rng: random.Random) -> str:
        """One of them, each kind as often as SHARES says."""
        kinds = [kind for kind in SHARES if getattr(self, kind)]
        kind = rng.choices(kinds, [SHARES[kind] for kind in kinds])[0]
        return str(rng.choice(getattr(self, kind)))

    def write(self, path: Path) -> None:
        """Keep them as JSON."""
        path.write_text(json.dumps(asdict(self)))

    @classmethod
    def read(cls, path: Path) -> "Sentences":
        """Those kept at `path`."""
        kept = json.loads(path.read_text())
        return cls(**{kind: tuple(said) for kind, said in kept.items()})


@cache
def banned() -> frozenset[str]:
    """Everything the development and test corpora say, whatever the voices."""
    said = set(spoken_sentences())
    for seed in (DEVELOPMENT, TEST):
        said |= {s.words for s in commands(MOST, ROBOTIC, seed)}
        said |= {s.words for s in minimal_pairs(MOST, ROBOTIC, seed)}
    for path in (RECORDINGS.parent / "phrases").glob("*.tsv"):
        said |= {line.split("\t")[3] for line in path.read_text().splitlines() if "\t" in line}
    return frozenset(said)


def make_sentences(share: float = 1.0) -> Sentences:
    """`share` of the counts; a third of the commands are readings."""
    rng = random.Random(SEED)
    commands_, free, numbers, talk = (round(n * share) for n in (COMMANDS, FREE, NUMBERS, TALK))
    return Sentences(
        tuple(_several(_command, commands_, rng)),
        (*_talk(talk, rng), *_several(free_talk, talk // 2, rng)),
        tuple(_several(free_speech, free, rng)),
        tuple(_several(number_string, numbers, rng)),
    )


def _several(make: Callable[[random.Random], str], count: int, rng: random.Random) -> list[str]:
    """`count` of what `make` makes, longer ones once each, short ones as often as they come."""
    kept: list[str] = []
    seen = set(banned())
    while len(kept) < count:
        words = make(rng)
        if len(words.split()) > 3:
            if words.removeprefix(f"{ADDRESS} ") in seen:
                continue
            seen.add(words)
        kept.append(words)
    return kept


def _command(rng: random.Random) -> str:
    kind = rng.random()
    if kind < 0.32:
        words = reading(rng)
    elif kind < 0.42:
        words = grill(rng)
    else:
        names, of = rng.choice(_NAMES), _READINGS if kind < 0.5 else _OTHERS
        words = random_sentence(rng, names, command=rng.choice(of), lean=True)
    return f"{ADDRESS} {words}" if rng.random() < 0.35 else words


def _talk(count: int, rng: random.Random) -> list[str]:
    """Sentences of 3 to 14 words without digits; none where `fortunes` is not installed."""
    files = sorted(path for path in FORTUNES.glob("*") if path.is_file())
    text = b"".join(path.read_bytes() for path in files).decode(errors="ignore")
    found = []
    for raw in re.split(r"(?<=[.!?])\s+|\n%\n|\n", text):
        if re.search(r"[\d@#/\\<>{}_=]", raw):
            continue
        words = " ".join(re.sub(r"[^a-z' ]", " ", raw.lower()).split())
        if 3 <= len(words.split()) <= 14 and len(words) < 90 and words not in banned():
            found.append(words)
    rng.shuffle(found)
    return list(dict.fromkeys(found))[:count]
