"""How well the ears hear: run `python -m tests.benchmarks.hearing --fast` or `--full`.

Every corpus is seeded and made by this command; what was heard is kept in the corpus
folder (see corpus.py), so that a second run only decides again. Figures in brackets are
95 % intervals (Wilson), bounds of rates are exact Poisson ones. "plain" is the baseline: the
same Whisper model as it came, held to the grammar, its best sentence taken. A
corpus in noise goes through these noises in turn:
kitchen (recorded), babble of six, wind, grill, passing traffic, children at play, music,
one person talking behind the cook, pink.

Silent wrong: a command that was not said is accepted without a question; silent wrong
number: it is a reading with a number or a bird that was not said. Hours of talk are
measured by hearing_talk.py.
"""

import argparse
from collections.abc import Callable
from functools import partial
from pathlib import Path

from assistant.cook.vocabulary.commands import BirdReading
from assistant.ears.candidates import resting_prior
from assistant.ears.ears import Ears
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DRINKS, TEST
from tests.benchmarks.corpus import NEVER_FITTED, ROBOTIC
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.corpus_noise import NOISES
from tests.benchmarks.hearing_baseline import Baseline
from tests.benchmarks.hearing_cost import print_cost
from tests.benchmarks.hearing_evidence import Bench, Item, Tried
from tests.benchmarks.hearing_priors import prior_when
from tests.benchmarks.hearing_tally import TalkTally, Tally, command_in, taken_plainly, tallied
from tests.benchmarks.hearing_words import words_cells

DIGITS = Path(__file__).parent / "grammars" / "digits.jsgf"
FAST_COUNT, FULL_COUNT = 12, 100
FAST_LEVELS, FULL_LEVELS = (10,), (24, 20, 10, 5)
_PLACE = tuple(name for name in NOISES if name != "kitchen")

_OUTCOMES = ("exact", "asked_right", "silent_number", "silent_wrong", "asked", "refused")
_PLAIN = ("plain_exact", "plain_number", "plain_wrong")


def table(title: str, *columns: str) -> None:
    """Print the head of a table."""
    print(f"\n## {title}\n| {' | '.join(columns)} |\n|{'---|' * len(columns)}", flush=True)


def row(*cells: object) -> None:
    """Print one row."""
    print(f"| {' | '.join(map(str, cells))} |", flush=True)


def command_tables(bench: Bench, n: int, levels: tuple[int, ...], *, full: bool) -> list[Tried]:
    """The cook's commands: by condition, by voices, by noise, with the cook's prior."""
    heard = command_rows(bench, n, levels, full=full)
    voices_table(bench.ears, heard)
    if full:
        noise_table(bench.ears, heard["10 dB"] + heard["minimal pairs, 10 dB"])
    prior_table(bench.ears, heard, levels)
    return [one for part in heard.values() for one in part]


def command_rows(
    bench: Bench, n: int, levels: tuple[int, ...], *, full: bool
) -> dict[str, list[Tried]]:
    """The first table; what was heard, by the row's label."""
    table(
        "The cook's commands (percent)", "voices and noise", "n", "exact",
        "exact after at most one ask-back", "kind right", "number right", "silent wrong number",
        "silent wrong, any", "asked back", "refused", "plain: exact", "plain: wrong number",
        "plain: wrong, any",
    )  # fmt: skip
    heard = {}
    for label, make in command_corpora(n, levels, full=full):
        heard[label] = bench.tried(make())
        tally = tallied(bench.ears, heard[label])
        row(
            label, tally.n,
            tally.rates("exact", "asked_right", "kind", "number", *_OUTCOMES[2:], *_PLAIN),
        )  # fmt: skip
    return heard


def command_corpora(
    n: int, levels: tuple[int, ...], *, full: bool
) -> list[tuple[str, Callable[[], list[Item]]]]:
    """Every corpus of commands with its label."""
    items = corpora.spoken_commands(n, TEST)
    pairs = corpora.number_pairs(n, TEST)
    robots = corpora.spoken_commands(n if full else n // 2, TEST, ROBOTIC)
    noisy = corpora.in_noise
    rows: list[tuple[str, Callable[[], list[Item]]]] = [("clean", lambda: items)]
    rows += [(f"{level} dB", partial(noisy, items, level)) for level in levels]
    rows += [("minimal pairs, clean", lambda: pairs)]
    if full:
        rows += [("echo of a yard", lambda: corpora.in_yard(items))]
        rows += [("minimal pairs, 10 dB", lambda: noisy(pairs, 10))]
    rows += [("robotic voices, clean", lambda: robots)]
    if full:
        rows += [("robotic voices, 10 dB", lambda: noisy(robots, 10))]
    return rows


def voices_table(ears: Ears, heard: dict[str, list[Tried]]) -> None:
    """The same utterances, voices the recogniser was fitted on apart from others."""
    columns = ("n", "exact", "exact after at most one ask-back", "silent wrong, any")
    table(
        "The same utterances by voices (percent): those the recogniser was fitted on | others",
        "voices and noise", *columns, *(f"others: {name}" for name in columns),
    )  # fmt: skip
    for label, part in heard.items():
        groups = [
            tallied(ears, [one for one in part if (one.item.group in NEVER_FITTED) is new])
            for new in (False, True)
        ]
        cells = [(g.n, g.rates("exact", "asked_right", "silent_wrong")) for g in groups]
        row(label, *(cell for pair in cells for cell in pair))


def noise_table(ears: Ears, heard: list[Tried]) -> None:
    """Commands and minimal pairs at 10 dB by the noise they were said in."""
    table(
        "By noise, commands and minimal pairs at 10 dB (percent)", "noise", "n", "exact",
        "exact after at most one ask-back", "silent wrong number", "silent wrong, any",
        "asked back", "refused", "plain: exact", "plain: wrong number", "plain: wrong, any",
    )  # fmt: skip
    for noise in NOISES:
        tally = tallied(ears, [one for one in heard if one.item.noise == noise])
        row(noise, tally.n, tally.rates(*_OUTCOMES, *_PLAIN))


def prior_table(ears: Ears, heard: dict[str, list[Tried]], levels: tuple[int, ...]) -> None:
    """Bird readings again, with the prior of a simulated cook that expects the reading, or
    one 40 F away from it. Only the decision is new: what was heard stays."""
    table(
        "Bird readings, the cook expecting them or something else (percent)", "readings", "n",
        "exact", "exact after at most one ask-back", "silent wrong number", "silent wrong, any",
        "asked back", "refused", "plain: exact", "plain: wrong number", "plain: wrong, any",
    )  # fmt: skip
    for label in ("clean", *(f"{level} dB" for level in levels)):
        for surprise_f, name in (
            (0.0, "as expected"),
            (40.0, "40 F higher"),
            (-40.0, "40 F lower"),
        ):
            tally = expecting(ears, heard[label], surprise_f)
            row(f"{label}, {name}", tally.n, tally.rates(*_OUTCOMES, *_PLAIN))


def expecting(ears: Ears, heard: list[Tried], surprise_f: float) -> Tally:
    """The bird readings among what was heard, each `surprise_f` above what is expected."""
    tally = Tally()
    for one in heard:
        truth = one.item.truth
        if isinstance(truth, BirdReading):
            ears.prior = prior_when(truth, surprise_f)  # type: ignore[assignment]
            tally.add(one.decided(ears), command_in(ears, one.plain), truth)
    ears.prior = resting_prior
    return tally


def talk_table(bench: Bench, n: int, *, full: bool) -> None:
    """Speech that must be refused, utterance by utterance."""
    table(
        "Speech that is not meant for it (count, rate and 95 % bound per hour of such speech)",
        "corpus", "n", "minutes", "record-changing false accepts", "harmless ones", "asked back",
        "plain: record-changing", "plain: harmless",
    )  # fmt: skip
    for label, talk in (
        ("invented talk", corpora.talk(n if full else n // 2, TEST)),
        ("human speech", corpora.human_talk(n // 2 if full else n // 4)),
        ("readers and non-native speakers", corpora.strangers_talk(n if full else n // 2)),
    ):
        heard = bench.tried(talk)
        talk_row(bench.ears, heard, f"{label}, no address word needed", address=False)
        talk_row(bench.ears, heard, f"{label}, address word needed", address=True)
        if full:
            heard = bench.tried(corpora.in_noise(talk, 10))
            talk_row(bench.ears, heard, f"{label}, 10 dB, none needed", address=False)
            talk_row(bench.ears, heard, f"{label}, 10 dB, address word needed", address=True)


def talk_row(ears: Ears, heard: list[Tried], label: str, *, address: bool) -> None:
    """One row of the table of talk; with `address`, the baseline needs it as well."""
    hours = sum(one.evidence.audio_s for one in heard) / 3600
    tally = TalkTally(hours, hours)
    for one in heard:
        decided = one.decided(ears, address_required=address)
        tally.add(decided, taken_plainly(ears, one.plain, address=address))
    row(label, len(heard), f"{60 * tally.hours:.1f}", tally.cells())


def word_tables(n: int, *, full: bool, only_kept: bool) -> None:
    """Drink orders and digits by other people's grammars."""
    table(
        "Words by a grammar of others (percent)", "corpus", "n", "exact", "wrong",
        "refused or asked about",
        "plain: exact", "plain: wrong",
    )  # fmt: skip
    for path, corpora_of in ((DRINKS, order_corpora), (DIGITS, digit_corpora)):
        text = path.read_text()
        ears = Ears(jsgf=text, engine="whisper")
        bench = Bench(ears, Baseline(path.stem, jsgf=text), path.stem, only_kept)
        for label, items in corpora_of(n, full=full):
            part = bench.tried(items)
            row(label, len(part), *words_cells(ears, part))
        bench.close()


def order_corpora(n: int, *, full: bool) -> list[tuple[str, list[Item]]]:
    """Human drink orders, clean, in the recorded kitchen and in the other noises."""
    items = corpora.orders(n)
    rows = [("human drink orders, clean", items)]
    for level in FULL_LEVELS if full else FAST_LEVELS:
        kitchen = corpora.in_noise(items, level, ("kitchen",))
        rows.append((f"human drink orders, kitchen {level} dB", kitchen))
        if full:
            place = corpora.in_noise(items, level, _PLACE)
            rows.append((f"human drink orders, the other noises {level} dB", place))
    return rows


def digit_corpora(n: int, *, full: bool) -> list[tuple[str, list[Item]]]:
    """Human digits in threes from 8 kHz recordings, clean and in noise."""
    items = corpora.digit_strings(n, TEST)
    rows = [("human digits in threes (8 kHz), clean", items)]
    if full:
        for level in (20, 10):
            noisy = corpora.in_noise(items, level)
            rows.append((f"human digits in threes (8 kHz), {level} dB", noisy))
    return rows


def main() -> None:
    """Print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    size = parser.add_mutually_exclusive_group()
    size.add_argument("--fast", action="store_true", help="under five minutes; the default")
    size.add_argument("--full", action="store_true", help="every corpus, noise and level")
    parser.add_argument("--count", type=int, help="utterances in a corpus; 100 when full")
    parser.add_argument("--only", choices=("cook", "words", "cost"), help="part of the tables")
    parser.add_argument("--kept", action="store_true", help="only what was heard before")
    asked = parser.parse_args()
    n = asked.count or (FULL_COUNT if asked.full else FAST_COUNT)
    levels = FULL_LEVELS if asked.full else FAST_LEVELS
    heard: list[Tried] = []
    if asked.only in (None, "cook"):
        ears = Ears(TONIGHT, engine="whisper")
        bench = Bench(ears, Baseline("cook", TONIGHT), "cook", asked.kept)
        heard = command_tables(bench, n, levels, full=asked.full)
        talk_table(bench, n, full=asked.full)
        bench.close()
    if asked.only in (None, "words"):
        word_tables(n, full=asked.full, only_kept=asked.kept)
    if not asked.kept:
        print_cost(heard, full=asked.full)


if __name__ == "__main__":
    main()
