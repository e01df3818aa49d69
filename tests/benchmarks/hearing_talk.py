"""Hours of talk with the address word required: `python -m tests.benchmarks.hearing_talk`.

Recorded people (hearing_people.py), clean, and 20 and 10 dB above the noises of the place, and
tracks of generated table talk (hearing_tracks.py) go through the utterances of the live loop
(its voice-activity model, its pauses, its looks at what was said so far) and through the ears.
What does not open with the address word is over after the look at that word alone. Everything
heard is kept in the corpus folder: a run that was stopped goes on where it was, and a second
run only decides again. `--hours` of talk in all: the recordings first, then generated talk for
the rest; `--minutes` ends a run after the track in work; whatever was heard by then is printed.

An answer is whatever the cook would notice: a command taken, a question, "not understood".
The generated talk says the address word on purpose now and then ("that turnspit is older than
my uncle"); answers to that are counted by themselves.
After a question the next utterance needs no address word, nor does one in the same breath.
"""

import argparse
import sys
import time
from bisect import bisect
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from assistant.ears.choice import changes_record
from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.grammar.grammar import ADDRESS
from assistant.live.outlook import is_meant, outlook_of
from assistant.live.utterance import BEGIN_CHUNKS, CHUNK, CHUNK_S, SAME_BREATH_S, Pauses, Utterance
from assistant.sound.samples import RATE_HZ
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.hearing_evidence import kept_evidence
from tests.benchmarks.hearing_people import FITTED, NEVER_FITTED, people_tracks
from tests.benchmarks.hearing_tally import per_hour, taken_of
from tests.benchmarks.hearing_tracks import CLEAN_DB, TABLE, TRACK_S, Track

LEVELS = (CLEAN_DB, 20.0, 10.0)
PAUSES = Pauses()
SOURCES = (NEVER_FITTED, FITTED, TABLE)

Hear = Callable[[slice, bool], Heard]


def utterances(
    chances: np.ndarray, hear: Hear, address: str = ADDRESS
) -> Iterator[tuple[slice, Heard]]:
    """The utterances of a track as the live listener cuts them, each with what was heard.

    A pause is looked into once it is long enough to end a whole command; what was heard
    says how much longer it is worth waiting. Chunks are the places of their samples.
    """
    utterance, look, heard, free = Utterance(PAUSES), None, None, False
    asks, taken_s = False, -np.inf
    for n, chance in enumerate(chances):
        places = np.arange(n * CHUNK, (n + 1) * CHUNK)
        change = utterance.add(places, float(chance))  # type: ignore[arg-type]
        if change == "began":
            free = asks or (n - BEGIN_CHUNKS) * CHUNK_S - taken_s <= SAME_BREATH_S
        if change == "paused":
            look = (utterance.version, _span(utterance))
        elif change == "resumed":
            look = heard = None
        if look and heard is None and utterance.pause_s >= PAUSES.whole_s:
            heard = hear(look[1], free)
            utterance.judge(look[0], outlook_of(heard, TONIGHT, address))
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
class Tally:
    """What became of the talk of one source at one level of noise."""

    hours: float = 0.0
    speech_hours: float = 0.0
    utterances: int = 0
    answers: int = 0
    named: int = 0  # of them, where somebody had said the address word
    record: int = 0

    def __add__(self, other: "Tally") -> "Tally":
        """Both together."""
        return Tally(
            self.hours + other.hours,
            self.speech_hours + other.speech_hours,
            self.utterances + other.utterances,
            self.answers + other.answers,
            self.named + other.named,
            self.record + other.record,
        )

    def row(self, label: str) -> str:
        """A row of the table."""
        return (
            f"| {label} | {self.hours:.2f} | {self.speech_hours:.2f} | {self.utterances} "
            f"| {per_hour(self.answers - self.named, self.hours)} | {self.named} "
            f"| {per_hour(self.record, self.hours)} |"
        )


def sat_through(ears: Ears, track: Track) -> Tally:
    """One track heard to its end."""
    chances = track.voice_chances()
    tally = Tally(len(chances) * CHUNK_S / 3600, float(np.mean(chances > 0.5)))
    tally.speech_hours *= tally.hours
    is_free = False

    def hear(span: slice, free: bool) -> Heard:
        nonlocal is_free
        is_free = free
        key = f"{track.key} {span.start}-{span.stop} {ears.address}{' free' * free}"
        evidence = kept_evidence(
            key, "talk", lambda: ears.listen(track.sound()[span], only_addressed=not free)
        )
        return ears.decide(evidence, address_required=True, free=free)

    for span, heard in utterances(chances, hear, ears.address):
        tally.utterances += 1
        if heard.outcome != "refuse" or is_meant(heard, free=is_free, address=ears.address):
            tally.answers += 1
            tally.record += any(map(changes_record, taken_of(heard)))
            tally.named += ears.address in _tell(track, span, heard)
    return tally


def _tell(track: Track, span: slice, heard: Heard) -> str:
    """One line about talk that was answered; what had been said."""
    lines = track.lines()
    at = bisect([line.start_s for line in lines], span.stop / RATE_HZ) - 1
    kind = "changes the record" if any(map(changes_record, taken_of(heard))) else "harmless"
    said = lines[max(0, at)].words
    print(
        f"{track.key}, {span.start / RATE_HZ:.1f} s: {heard.outcome} {heard.words!r} ({kind}, "
        f"{heard.confidence:.2f}); said: {said!r}",
        file=sys.stderr,
        flush=True,
    )
    return said


def tracks(hours: float, sources: Sequence[str] = SOURCES) -> Iterator[Track]:
    """The recorded people at each level, then generated talk up to so many hours in all, of
    which no two tracks are alike."""
    left_s = 3600.0 * hours
    for source in (one for one in (NEVER_FITTED, FITTED) if one in sources):
        spoken = people_tracks(source, TRACK_S)
        for snr_db in LEVELS:
            for number, (wave, _lines) in enumerate(spoken):
                left_s -= len(wave) / RATE_HZ
                yield Track(number, snr_db, source)
    number = 0
    while left_s > 0 and TABLE in sources:
        yield Track(number, LEVELS[number % len(LEVELS)])
        number, left_s = number + 1, left_s - TRACK_S


def print_table(tallies: dict[tuple[str, float], Tally], distinct_h: float) -> None:
    """Counts, rates and 95 % bounds per hour."""
    columns = (
        "talk", "hours", "of them speech", "utterances", "answers",
        "answers where the address word was said", "changes of the record",
    )  # fmt: skip
    print(f"| {' | '.join(columns)} |\n|{'---|' * len(columns)}")
    for (source, snr_db), tally in sorted(tallies.items(), key=lambda one: (one[0][0], -one[0][1])):
        print(tally.row(f"{source}, {'clean' if snr_db == CLEAN_DB else f'{snr_db:g} dB'}"))
    print(sum(tallies.values(), Tally()).row("all"))
    print(f"distinct talk: {distinct_h:.2f} hours; the rest is the same in noise")


def main() -> None:
    """Sit through the talk and print what was answered."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--hours", type=float, default=3.0, help="of talk in all")
    parser.add_argument("--minutes", type=float, default=60.0, help="for this run to take")
    parser.add_argument("--only", choices=SOURCES, action="append", help="of what talk")
    parser.add_argument("--address", default=ADDRESS, help="the address word")
    asked = parser.parse_args()
    until_s = time.monotonic() + 60.0 * asked.minutes
    ears = Ears(TONIGHT, engine="whisper", address=asked.address)
    tallies: dict[tuple[str, float], Tally] = {}
    distinct: dict[tuple[str, int], float] = {}
    for track in tracks(asked.hours, asked.only or SOURCES):
        if time.monotonic() > until_s:
            break
        kind = (track.source, track.snr_db)
        tally = sat_through(ears, track)
        tallies[kind] = tallies.get(kind, Tally()) + tally
        distinct[track.source, track.number] = tally.hours
        print(f"heard {track.key}", file=sys.stderr, flush=True)
    print_table(tallies, sum(distinct.values()))
    ears.close()


if __name__ == "__main__":
    main()
