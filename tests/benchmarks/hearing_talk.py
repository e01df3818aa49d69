"""Hours of table talk: `python -m tests.benchmarks.hearing_talk --hours 10 --minutes 60`.

Tracks of talk (hearing_tracks.py) go through the utterances of the live loop (its
voice-activity model, its pauses, its looks at what was said so far) and through the
ears, with the address word needed and without. Everything heard is kept in the corpus
folder: a run that was stopped goes on where it was, and a second run only decides again.
`--minutes` ends a run after the track in work; whatever was heard by then is printed.

After an ask-back, and in the same breath as a command that was taken, an utterance needs no
address word, as in a live cook. The
baseline (hearing_baseline.py) takes what it hears; with the address word it takes what opens
with that. It hears every fifth track.
"""

import argparse
import sys
import time
from bisect import bisect
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field

import numpy as np

from assistant.cook.vocabulary.commands import Command
from assistant.ears.choice import changes_record
from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.live.outlook import outlook_of
from assistant.live.utterance import BEGIN_CHUNKS, CHUNK, CHUNK_S, SAME_BREATH_S, Pauses, Utterance
from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_baseline import Baseline
from tests.benchmarks.hearing_evidence import kept_evidence
from tests.benchmarks.hearing_tally import TalkTally, taken_of, taken_plainly
from tests.benchmarks.hearing_tracks import CLEAN_DB, TRACK_S, Track

LEVELS = (CLEAN_DB, 20.0, 10.0)
PLAIN_EVERY = 5
PAUSES = Pauses()

Hear = Callable[[slice, bool], Heard]


@dataclass
class Level:
    """All that was heard at one level of noise, with and without the address word."""

    snr_db: float
    needed: TalkTally = field(default_factory=TalkTally)
    free: TalkTally = field(default_factory=TalkTally)
    speech_hours: float = 0.0
    utterances: int = 0


def utterances(chances: np.ndarray, hear: Hear) -> Iterator[tuple[slice, Heard]]:
    """The utterances of a track as the live listener cuts them, each with what was heard.

    A pause is looked into once it is long enough to end a whole command; what was heard
    says how much longer it is worth waiting. Chunks are the places of their samples.
    """
    utterance, look, heard, free = Utterance(PAUSES), None, None, False
    asks, taken_s = False, -np.inf
    for n, chance in enumerate(chances):
        places = np.arange(n * CHUNK, (n + 1) * CHUNK)
        change = utterance.add(places, float(chance))
        if change == "began":
            free = asks or (n - BEGIN_CHUNKS) * CHUNK_S - taken_s <= SAME_BREATH_S
        if change == "paused":
            look = (utterance.version, _span(utterance))
        elif change == "resumed":
            look = heard = None
        if look and heard is None and utterance.pause_s >= PAUSES.whole_s:
            heard = hear(look[1], free)
            utterance.judge(look[0], outlook_of(heard, TONIGHT))
        if change == "full" or utterance.is_over:
            span = look[1] if look else _span(utterance)
            heard = heard or hear(span, free)
            yield span, heard
            asks = heard.outcome == "ask"
            if heard.outcome != "refuse":
                taken_s = n * CHUNK_S - utterance.pause_s
            utterance.clear()
            look = heard = None


def _span(utterance: Utterance) -> slice:
    places = utterance.samples()
    return slice(int(places[0]), int(places[-1]) + 1)


@dataclass
class Table:
    """The ears and the baseline at the table."""

    ears: Ears
    baseline: Baseline

    def sit_through(self, track: Track, level: Level) -> None:
        """Hear one track both ways and add it to the level."""
        chances = track.voice_chances()
        level.speech_hours += float(np.mean(chances > 0.5)) * TRACK_S / 3600
        for address, tally in ((True, level.needed), (False, level.free)):
            tally.hours += TRACK_S / 3600
            tally.plain_hours += TRACK_S / 3600 * _with_plain(track)
            for span, heard in utterances(chances, self._hear(track, address=address)):
                level.utterances += address
                tally.add(heard, self._plainly(track, span, address=address))
                _tell(track, span, heard, address=address)

    def _hear(self, track: Track, *, address: bool) -> Hear:
        def hear(span: slice, free: bool) -> Heard:
            key = f"{track.key} {span.start}-{span.stop}"
            evidence = kept_evidence(key, "talk", lambda: self.ears.listen(track.sound()[span]))
            return self.ears.decide(evidence, address_required=address, free=free)

        return hear

    def _plainly(self, track: Track, span: slice, *, address: bool) -> Command | None:
        if not _with_plain(track):
            return None
        key = f"{track.key} {span.start}-{span.stop}"
        words = self.baseline.kept(key)
        if words is None:
            words = self.baseline.words(key, track.sound()[span])
        return taken_plainly(self.ears, words, address=address)


def _with_plain(track: Track) -> bool:
    return track.number % PLAIN_EVERY == 0


def _tell(track: Track, span: slice, heard: Heard, *, address: bool) -> None:
    """One line about talk that was taken for a command or asked about."""
    if heard.outcome == "refuse":
        return
    lines = track.lines()
    at = bisect([line.start_s for line in lines], span.stop / RATE_HZ) - 1
    kind = "changes the record" if any(map(changes_record, taken_of(heard))) else "harmless"
    print(
        f"{track.key}, {span.start / RATE_HZ:.1f} s, address word "
        f"{'needed' if address else 'not needed'}: {heard.outcome} {heard.words!r} ({kind}, "
        f"{heard.confidence:.2f}); said: {lines[max(0, at)].words!r}",
        file=sys.stderr,
        flush=True,
    )


def sit(table: Table, numbers: range, until_s: float) -> list[Level]:
    """Track after track, each at every level, until they or the time are over."""
    levels = [Level(snr_db) for snr_db in LEVELS]
    for number in numbers:
        for level in levels:
            if time.monotonic() > until_s:
                return levels
            table.sit_through(Track(number, level.snr_db), level)
            print(f"heard track {number} at {level.snr_db:g} dB", file=sys.stderr, flush=True)
    return levels


def print_levels(levels: list[Level]) -> None:
    """The table: counts, rates and 95 % bounds per hour of the track."""
    columns = (
        "talk", "address word", "hours", "of them speech", "utterances",
        "record-changing false accepts", "harmless ones", "asked back",
        "plain: record-changing", "plain: harmless",
    )  # fmt: skip
    print(f"| {' | '.join(columns)} |\n|{'---|' * len(columns)}")
    for level in levels:
        name = "clean" if level.snr_db == CLEAN_DB else f"{level.snr_db:g} dB"
        for needed, tally in (("needed", level.needed), ("not needed", level.free)):
            print(
                f"| {name} | {needed} | {tally.hours:.1f} | {level.speech_hours:.1f} "
                f"| {level.utterances} | {tally.cells()} |"
            )


def main() -> None:
    """Sit through the talk and print what was taken for a command."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--hours", type=float, default=1.0, help="of talk at each level")
    parser.add_argument("--minutes", type=float, default=60.0, help="for this run to take")
    parser.add_argument("--first", type=int, default=0, help="track to begin with, for two runs")
    parser.add_argument("--sound-only", action="store_true", help="make the sound, hear nothing")
    asked = parser.parse_args()
    numbers = range(asked.first, round(asked.hours * 3600 / TRACK_S))
    until_s = time.monotonic() + 60.0 * asked.minutes
    if asked.sound_only:
        for number in numbers:
            for snr_db in LEVELS:
                if time.monotonic() < until_s:
                    Track(number, snr_db).voice_chances()
        return
    ears = Ears(TONIGHT, engine="whisper")
    print_levels(sit(Table(ears, Baseline("cook", TONIGHT)), numbers, until_s))
    ears.close()


if __name__ == "__main__":
    main()
