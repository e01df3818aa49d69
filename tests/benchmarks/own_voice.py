"""Nobody speaks, and it must not answer itself: `python -m tests.benchmarks.own_voice`.

What it says in the rehearsed evenings, sentence after sentence, through the simulated places of
`echo_room`, as loud as a cook and 10 dB louder and softer, with drifting clocks, and through the
canceller, the cutting and the recogniser of a live cook. `--minutes` of it in all; one canceller
hears ten sentences, then another place is tried, so each time the first of them is heard
before it has learned the room, when a live cook is deaf. Printed: how many utterances were cut
from it, how many of them were long enough to turn it down, and what it would have reacted to.
"""

import argparse
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import cycle, islice
from pathlib import Path

import numpy as np

from assistant.app.rehearse import read_script, rehearse
from assistant.ears.ears import Ears
from assistant.live.cut import pieces
from assistant.live.cut_in import CUT_IN_S
from assistant.live.outlook import is_meant, outlook_of
from assistant.session.line import Line
from assistant.sound.canceller import both
from assistant.sound.samples import RATE_HZ, Samples
from assistant.voice.silent import SilentSpeaker
from tests.benchmarks.cancellers import BLOCK, DRIFTS_PPM, LEVELS_DB, NOISE_DB, OWN_VOICE
from tests.benchmarks.corpus import say
from tests.benchmarks.corpus_commands import TONIGHT
from tests.benchmarks.echo_room import PLACES, fire, heard
from tests.benchmarks.echo_room import Path as Way
from tests.benchmarks.hearing_tally import per_hour

EVENINGS = sorted((Path(__file__).parents[2] / "demo_sessions").glob("*.txt"))
TOGETHER = 10
LATE_S = (0.01, 0.05, 0.12)


def sentences() -> Iterator[str]:
    """All that is said in the rehearsed evenings, again and again."""
    lines: list[Line] = []
    for path in EVENINGS:
        rehearse(read_script(path), lines.append, SilentSpeaker())
    return cycle(dict.fromkeys(str(one.fields["text"]) for one in lines if one.kind == "said"))


@dataclass
class Tally:
    """What became of so much of its own voice."""

    hours: float = 0.0
    utterances: int = 0
    long: int = 0
    reactions: int = 0

    def add(self, played: Samples, way: Way, number: int, ears: Ears) -> None:
        """Some of it, in one place."""
        near = heard(way.echo(played), fire(len(played), NOISE_DB, number))
        pair = both()
        parts = [
            pair.process(near[at : at + BLOCK], played[at : at + BLOCK])
            for at in range(0, len(near), BLOCK)
        ]
        left, judged = (np.concatenate(some) for some in zip(*parts, strict=True))
        self.hours += len(near) / RATE_HZ / 3600
        for piece in pieces(
            left,
            lambda samples, _follows: ears.hear(samples, address_required=True),
            lambda one: outlook_of(one, TONIGHT),
            judged=judged,
        ):
            self.utterances += 1
            self.long += piece.end_s - piece.start_s > CUT_IN_S
            if piece.heard.outcome != "refuse" or is_meant(piece.heard):
                self.reactions += 1
                print(f"{way}: {piece.heard.outcome} {piece.heard.words!r}", flush=True)


def main() -> None:
    """Play it and print."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--minutes", type=float, default=60.0, help="of its own voice")
    asked = parser.parse_args()
    said, tally, ears = sentences(), Tally(), Ears(TONIGHT, engine="whisper")
    number = 0
    while tally.hours < asked.minutes / 60:
        spoken = [say(text, OWN_VOICE) for text in islice(said, TOGETHER)]
        played = np.concatenate(spoken)
        way = Way(
            PLACES[number % len(PLACES)],
            LEVELS_DB[number % len(LEVELS_DB)],
            LATE_S[number // 2 % len(LATE_S)],
            DRIFTS_PPM[number % len(DRIFTS_PPM)],
        )
        tally.add(played[: len(played) // BLOCK * BLOCK], way, number, ears)
        number += 1
    ears.close()
    print(
        f"own voice {tally.hours:.2f} h: {tally.utterances} utterances cut from it, "
        f"{tally.long} longer than {CUT_IN_S} s, reactions {per_hour(tally.reactions, tally.hours)}"
    )


if __name__ == "__main__":
    main()
