"""What becomes of the sound before the first listener: `python -m tests.benchmarks.hearing_fronts`.

Each row is PocketSphinx with the closed grammar alone, no judge, no refusal, on
development sound only: exact of n by corpus, and seconds of processor an utterance
(decoding alone). The first two rows are what the ears use. `--only WORD` takes the rows
whose name holds the word; `--means FILE` adds both fronts with other means of the sound model.
"""

import argparse
import json
import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

import numpy as np
from scipy.signal import butter, sosfilt

from assistant.ears.endpointer import spoken_span
from assistant.ears.sphinx.decoder import Sphinx, fitted_to_cleaned_sound
from assistant.ears.sphinx.denoise import denoised
from assistant.grammar.grammar import command_names, fitted, pronunciations
from assistant.grammar.network import Network, network_of, read_network
from assistant.grammar.parse import NotUnderstood, parse
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks import corpora
from tests.benchmarks.corpora import DEVELOPMENT, DRINKS
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.drink_slots import drink_slots
from tests.benchmarks.hearing_evidence import Item

ANSWERS = frozenset({"number", "choose", "item_done", "item_skip", "item_back"})
"""Commands that make sense only after something was asked."""


@dataclass(frozen=True)
class Sound:
    """One utterance, as it came and cleaned, with its truth."""

    item: Item
    plain: Samples
    cleaned: Samples


Front = Callable[[Sound], Samples]


@dataclass(frozen=True)
class Trial:
    """A row: what the decoder hears, its settings, and whether it listens for answers."""

    name: str
    front: Front
    settings: Mapping[str, object] = field(default_factory=dict)
    asked: bool = True


def plain(sound: Sound) -> Samples:
    """The sound as it came."""
    return sound.plain


def cleaned(sound: Sound) -> Samples:
    """The sound after RNNoise."""
    return sound.cleaned


def mixed_back(share: float) -> Front:
    """The cleaned sound with a share of the noisy one."""

    def front(sound: Sound) -> Samples:
        return _whole(share * sound.plain.astype(float) + (1 - share) * sound.cleaned)

    return front


def high_passed(sound: Sound) -> Samples:
    """Without what is below 150 Hz: wind and hum."""
    return _whole(sosfilt(butter(4, 150, "hp", fs=RATE_HZ, output="sos"), sound.plain))


def at_peak(db: float) -> Front:
    """The sound with its peak at `db` below full scale; above it, clipped."""

    def front(sound: Sound) -> Samples:
        wave = sound.plain.astype(float)
        return _whole(wave / np.max(np.abs(wave)) * 32767 * 10 ** (db / 20))

    return front


def _whole(wave: np.ndarray) -> Samples:
    return np.clip(np.round(wave), -32768, 32767).astype(np.int16)


QUICK = {"compallsen": False}
TRIALS = (
    Trial("plain (used)", plain, QUICK),
    Trial("cleaned, fitted model (used)", cleaned, fitted_to_cleaned_sound()),
    Trial("plain, every sound scored", plain),
    Trial("cleaned, model as it came", cleaned),
    Trial("plain, fitted model", plain, fitted_to_cleaned_sound()),
    Trial("plain, no answers in the grammar", plain, asked=False),
    Trial("cleaned, no answers in the grammar", cleaned, asked=False),
    Trial("cleaned, 10 % of the noise back", mixed_back(0.10)),
    Trial("cleaned, 25 % of the noise back", mixed_back(0.25)),
    Trial("plain, high-passed at 150 Hz", high_passed),
    Trial("plain, two Gaussians a sound", plain, {"topn": 2}),
    Trial("plain, every second frame scored", plain, {"ds": 2}),
    Trial("plain, beams 1e-40", plain, {"beam": 1e-40, "pbeam": 1e-40, "wbeam": 1e-30}),
    Trial("plain, peak at -50 dB", at_peak(-50.0)),
    Trial("plain, peak at -20 dB", at_peak(-20.0)),
    Trial("plain, clipped by 12 dB", at_peak(12.0)),
)


def cook_network(*, asked: bool) -> Network:
    """The cook's grammar; without answers where nothing was `asked`."""
    only = None if asked else frozenset(command_names()) - ANSWERS
    return network_of(fitted(TONIGHT, lean=True, only=only))


def corpora_of(count: int) -> dict[str, list[Sound]]:
    """Development sound by name."""
    said = corpora.spoken_commands(count, DEVELOPMENT)
    orders = corpora.orders(count * 2 // 3, development=True)
    items = {
        "commands clean": said,
        "10 dB": corpora.in_noise(said, 10),
        "5 dB": corpora.in_noise(said, 5),
        "orders 10 dB": corpora.in_noise(orders, 10, ("kitchen",)),
        "orders 5 dB": corpora.in_noise(orders, 5, ("kitchen",)),
    }
    return {name: [_sound(item) for item in part] for name, part in items.items()}


def _sound(item: Item) -> Sound:
    samples = item.make()
    spoken = samples[spoken_span(samples)]
    return Sound(item, spoken, denoised(spoken))


def is_right(words: str, truth: object) -> bool:
    """Whether the words mean the truth: a command, or a drink order's slots."""
    if isinstance(truth, str):
        return bool(drink_slots(words) == json.loads(truth))
    try:
        return parse(words, TONIGHT) == truth
    except NotUnderstood:
        return False


def row(trial: Trial, heard: Mapping[str, list[Sound]]) -> str:
    """One row of the table. Answers count only where they are listened for."""
    sphinx = Sphinx(cook_network(asked=trial.asked), pronunciations(), trial.settings)
    drinks = read_network(DRINKS.read_text())
    cells, spent_s, count = [], 0.0, 0
    for name, sounds in heard.items():
        if name.startswith("orders"):
            sphinx.set_grammar(drinks)
        right = 0
        for sound in sounds:
            samples = trial.front(sound)
            began = time.process_time()
            found = sphinx.recognise(samples, with_ratio=False)
            spent_s, count = spent_s + time.process_time() - began, count + 1
            right += bool(found) and is_right(found[0].words, sound.item.truth)
        cells.append(f"{right} of {len(sounds)}")
    return f"| {trial.name} | {' | '.join(cells)} | {spent_s / max(1, count):.3f} |"


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--count", type=int, default=60, help="commands in a corpus")
    parser.add_argument("--only", default="", help="rows whose name holds this")
    parser.add_argument("--means", help="other means of the sound model")
    asked = parser.parse_args()
    trials = [t for t in TRIALS if asked.only in t.name]
    if asked.means:
        other = {"mean": asked.means}
        trials += [Trial("plain, other means", plain, other)]
        trials += [Trial("cleaned, other means", cleaned, other)]
    heard = corpora_of(asked.count)
    print(f"| first listener alone | {' | '.join(heard)} | s |")
    print("|---" * (len(heard) + 2) + "|")
    for trial in trials:
        print(row(trial, heard), flush=True)


if __name__ == "__main__":
    main()
