"""How well the ears hear: run `python -m tests.benchmarks.hearing --fast` or `--full`.

Every corpus is seeded and made by this command; what was heard is kept in the corpus
folder (see corpus.py), so that a second run only decides again. Figures in brackets are
95 % intervals (Wilson). "plain" is the baseline: PocketSphinx with the closed grammar
and the recommended settings, no second listener, no noise suppression, no refusal.
"""

import argparse
import json
import math
import resource
import statistics
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from assistant.cook.commands import BirdReading, Command
from assistant.ears.choice import changes_record, resting_prior
from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DRINKS, TEST
from tests.benchmarks.corpus import ROBOTIC
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.drink_slots import drink_slots
from tests.benchmarks.hearing_evidence import Item, Tried, tried
from tests.benchmarks.hearing_priors import prior_when

ONLY_KEPT = False
"""Set by --kept: decide again about what was heard before, and listen to nothing new."""

DIGITS = Path(__file__).parent / "grammars" / "digits.jsgf"


@dataclass
class Tally:
    """Counts over one corpus in one condition."""

    n: int = 0
    exact: int = 0
    asked_right: int = 0
    kind: int = 0
    numbers: int = 0
    number: int = 0
    silent_wrong: int = 0
    asked: int = 0
    refused: int = 0
    plain_exact: int = 0
    plain_wrong: int = 0


def rate(count: int, n: int) -> str:
    """A share in percent with its 95 % Wilson interval."""
    if n == 0:
        return "-"
    z, p = 1.96, count / n
    middle = (p + z * z / (2 * n)) / (1 + z * z / n)
    half = z * math.sqrt(p * (1 - p) / n + z * z / (4 * n * n)) / (1 + z * z / n)
    return (
        f"{100 * p:.1f} [{100 * max(0.0, middle - half):.0f}-{100 * min(1.0, middle + half):.0f}]"
    )


def count(tally: Tally, heard: Heard, plain: object, truth: Command) -> None:
    """Add one spoken command."""
    tally.n += 1
    taken = heard.outcome in ("accept", "stress")
    right = heard.command == truth
    tally.exact += taken and right
    tally.asked_right += (taken and right) or (
        heard.outcome == "ask" and truth in heard.alternatives
    )
    tally.kind += heard.command is not None and heard.command.NAME == truth.NAME
    if hasattr(truth, "temperature"):
        tally.numbers += 1
        tally.number += getattr(heard.command, "temperature", None) == truth.temperature
    tally.silent_wrong += taken and not right
    tally.asked += heard.outcome == "ask"
    tally.refused += heard.outcome == "refuse"
    tally.plain_exact += plain == truth
    tally.plain_wrong += plain is not None and plain != truth


def spoken_row(ears: Ears, items: Iterable[Item], label: str, tag: str) -> list[Tried]:
    """Print one row of the table of commands."""
    tally, kept = Tally(), list(tried(ears, items, tag, only_kept=ONLY_KEPT))
    for one in kept:
        assert one.item.truth is not None
        plain = next((ears.meaning(h.words) for h in one.evidence.hypotheses[:1]), None)
        count(tally, ears.decide(one.evidence), plain, one.item.truth)
    n = tally.n
    print(
        f"| {label} | {n} | {rate(tally.exact, n)} | {rate(tally.asked_right, n)} "
        f"| {rate(tally.kind, n)} | {rate(tally.number, tally.numbers)} "
        f"| {rate(tally.silent_wrong, n)} | {rate(tally.asked, n)} | {rate(tally.refused, n)} "
        f"| {rate(tally.plain_exact, n)} | {rate(tally.plain_wrong, n)} |",
        flush=True,
    )
    return kept


def words_row(ears: Ears, items: Iterable[Item], label: str, tag: str) -> list[Tried]:
    """Print one row of the table of words without commands (drink orders, digits)."""
    kept = list(tried(ears, items, tag, only_kept=ONLY_KEPT))
    right = plain = 0
    for one in kept:
        first = one.evidence.hypotheses[:1]
        right += _same(ears.decide(one.evidence).words, one.item.truth)
        plain += bool(first) and _same(first[0].words, one.item.truth)
    print(
        f"| {label} | {len(kept)} | {rate(right, len(kept))} | {rate(plain, len(kept))} |",
        flush=True,
    )
    return kept


def _same(words: str, truth: object) -> bool:
    if isinstance(truth, str) and truth.startswith("{"):
        return drink_slots(words) == json.loads(truth)
    return words == truth


def talk_row(ears: Ears, items: Iterable[Item], label: str, *, address: bool) -> list[Tried]:
    """Print one row of the table of speech that must be refused."""
    kept = list(tried(ears, items, "cook", only_kept=ONLY_KEPT))
    hours = sum(one.evidence.audio_s for one in kept) / 3600
    heard = [ears.decide(one.evidence, address_required=address) for one in kept]
    taken = [h for h in heard if h.outcome in ("accept", "stress")]
    record = sum(changes_record(h.command) for h in taken)
    asked = sum(h.outcome == "ask" for h in heard)
    plain = sum(bool(one.evidence.hypotheses) for one in kept)
    per_hour = [
        f"{x} ({x / hours:.1f}/h)" if hours else "-" for x in (record, len(taken) - record, asked)
    ]
    print(
        f"| {label} | {len(kept)} | {60 * hours:.1f} min | {' | '.join(per_hour)} | {plain} |",
        flush=True,
    )
    return kept


def surprise_rows(ears: Ears, kept: list[Tried], label: str) -> None:
    """Bird readings again, with the prior of a simulated cook that expects the reading, or
    one 40 F away from it. Only the decision is new: what was heard stays."""
    readings = [one for one in kept if isinstance(one.item.truth, BirdReading)]
    for surprise_f, name in ((0.0, "as expected"), (40.0, "40 F higher"), (-40.0, "40 F lower")):
        tally = Tally()
        for one in readings:
            truth = one.item.truth
            assert isinstance(truth, BirdReading)
            ears.prior = prior_when(truth, surprise_f)
            count(tally, ears.decide(one.evidence), None, truth)
        ears.prior = resting_prior
        n = tally.n
        shares = (tally.exact, tally.asked_right, tally.silent_wrong, tally.asked, tally.refused)
        print(f"| {label}, {name} | {n} | {' | '.join(rate(x, n) for x in shares)} |", flush=True)


COMMANDS_HEAD = """
## The cook's commands (percent)
| voices and noise | n | exact | exact after at most one ask-back | kind right | number right \
| silent wrong | asked back | refused | plain: exact | plain: wrong |
|---|---|---|---|---|---|---|---|---|---|---|"""
WORDS_HEAD = """
## Words by a grammar of others (percent)
| corpus | n | exact | plain: exact |
|---|---|---|---|"""
PRIOR_HEAD = """
## Bird readings, the cook expecting them or something else (percent)
| readings | n | exact | exact after at most one ask-back | silent wrong | asked back | refused |
|---|---|---|---|---|---|---|"""
TALK_HEAD = """
## Speech that is not meant for it
| corpus | n | speech | record-changing false accepts | harmless | asked back | plain: accepted |
|---|---|---|---|---|---|---|"""


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    size = parser.add_mutually_exclusive_group()
    size.add_argument("--fast", action="store_true", help="under five minutes; the default")
    size.add_argument("--full", action="store_true", help="every corpus, noise and level")
    parser.add_argument("--no-judge", action="store_true", help="PocketSphinx alone")
    parser.add_argument("--count", type=int, help="utterances in a corpus; 100 when full")
    parser.add_argument("--only", choices=("cook", "words"), help="one half of the tables")
    parser.add_argument("--kept", action="store_true", help="only what was heard before")
    asked = parser.parse_args()
    globals()["ONLY_KEPT"] = asked.kept
    n, levels = (100, (20, 10, 5)) if asked.full else (20, (10,))
    n = asked.count or n
    judge = False if asked.no_judge else None
    kept: list[Tried] = []
    if asked.only != "words":
        kept += cook_tables(n, levels, full=asked.full, judge=judge)
    if asked.only != "cook":
        kept += word_tables(n, levels, full=asked.full, judge=judge)
    speed(kept)


def cook_tables(n: int, levels: tuple[int, ...], *, full: bool, judge: bool | None) -> list[Tried]:
    """Commands, minimal pairs and talk."""
    tag = "cook" if judge is None else "cook without judge"
    ears = Ears(TONIGHT, engine="sphinx", judge=judge)
    print(COMMANDS_HEAD)
    items = corpora.spoken_commands(n, TEST)
    kept = spoken_row(ears, items, "natural voices, clean", tag)
    by_label = {"clean": kept}
    for level in levels:
        noisy = corpora.in_noise(items, level)
        by_label[f"{level} dB"] = spoken_row(ears, noisy, f"natural voices, {level} dB", tag)
        kept = kept + by_label[f"{level} dB"]
    pairs = corpora.number_pairs(n, TEST)
    kept += spoken_row(ears, pairs, "minimal pairs 113 to 219, clean", tag)
    if full:
        kept += spoken_row(ears, corpora.in_yard(items), "natural voices, echo", tag)
        kept += spoken_row(ears, corpora.in_noise(pairs, 10), "minimal pairs, 10 dB", tag)
        robots = corpora.spoken_commands(n // 2, TEST, ROBOTIC)
        kept += spoken_row(ears, robots, "robotic voices, clean", tag)
        kept += spoken_row(ears, corpora.in_noise(robots, 10), "robotic voices, 10 dB", tag)
    print(PRIOR_HEAD)
    for label, part in by_label.items():
        surprise_rows(ears, part, label)
    print(TALK_HEAD)
    for label, talk in (
        ("invented talk", corpora.talk(n, TEST)),
        ("human speech", corpora.human_talk(n // 2)),
    ):
        kept += talk_row(ears, talk, f"{label}, no address word needed", address=False)
        talk_row(ears, talk, f"{label}, address word needed", address=True)
        if full:
            kept += talk_row(
                ears, corpora.in_noise(talk, 10), f"{label}, 10 dB, none needed", address=False
            )
    ears.close()
    return kept


def word_tables(n: int, levels: tuple[int, ...], *, full: bool, judge: bool | None) -> list[Tried]:
    """Drink orders and digits."""
    print(WORDS_HEAD)
    kept: list[Tried] = []
    for path, items, label in (
        (DRINKS, corpora.orders(n), "human drink orders"),
        (DIGITS, corpora.digit_strings(n, TEST), "human digits in threes (8 kHz)"),
    ):
        tag = path.stem if judge is None else f"{path.stem} without judge"
        ears = Ears(jsgf=path.read_text(), engine="sphinx", judge=judge)
        kept += words_row(ears, items, f"{label}, clean", tag)
        for level in levels if path == DRINKS else ():
            kept += words_row(
                ears,
                corpora.in_noise(items, level, ("kitchen",)),
                f"{label}, kitchen {level} dB",
                tag,
            )
            if full:
                others = ("babble", "wind", "grill")
                kept += words_row(
                    ears,
                    corpora.in_noise(items, level, others),
                    f"{label}, babble, wind, grill {level} dB",
                    tag,
                )
        ears.close()
    return kept


def speed(kept: list[Tried]) -> None:
    """Print compute seconds an utterance and the memory of the largest child."""
    spent = sorted(one.evidence.compute_s for one in kept if one.evidence.compute_s)
    if spent:
        p95 = spent[int(0.95 * (len(spent) - 1))]
        print(
            f"\nSeconds from the end of speech to the decision, nothing decoded ahead: median "
            f"{statistics.median(spent):.2f}, 95th percentile {p95:.2f} (n = {len(spent)})."
        )
    children = resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss / 1024
    print(f"Largest listener: {children:.0f} MB resident at its peak.")


if __name__ == "__main__":
    main()
