"""Make the recogniser's fitting: python -m tests.fitting --help."""

import argparse
import sys
from pathlib import Path

from tests.fitting.noises import TRACKS
from tests.fitting.people import make_people
from tests.fitting.sentences import Sentences, make_sentences
from tests.fitting.train import train
from tests.fitting.voices import COUNTS, make_voices

STAGES = ("sentences", "people", "voices", "train")


def main() -> None:
    """Run the stages asked for, all by default."""
    parser = argparse.ArgumentParser(prog="python -m tests.fitting", description=__doc__)
    parser.add_argument("--folder", type=Path, required=True, help="sentences and sound")
    parser.add_argument("--out", type=Path, default=Path("listener_fitting.npz"))
    parser.add_argument("--stage", choices=STAGES, action="append", help="default: all")
    parser.add_argument("--minutes", type=float, default=26)
    parser.add_argument("--rate", type=float, default=2e-4)
    parser.add_argument("--batch", type=int, default=48)
    parser.add_argument("--voice", choices=COUNTS, action="append", help="default: all")
    parser.add_argument("--processes", type=int, default=2)
    parser.add_argument("--resume", type=Path, help="a fitting to go on from")
    parser.add_argument("--share", type=float, default=1.0, help="under 1: a small trial")
    asked = parser.parse_args()
    stages = asked.stage or STAGES
    asked.folder.mkdir(parents=True, exist_ok=True)
    kept, sound, share = asked.folder / "sentences.json", asked.folder / "sound", asked.share
    try:
        if "sentences" in stages:
            make_sentences(share).write(kept)
        if "people" in stages:
            print(f"{len(make_people(sound))} recordings of people", file=sys.stderr)
        if "voices" in stages:
            only = tuple(asked.voice or COUNTS)
            said = make_voices(
                Sentences.read(kept), sound, share, only=only, processes=asked.processes
            )
            print(f"{len(said)} sentences said", file=sys.stderr)
        if "train" in stages:
            each = max(1, round(TRACKS * share))
            train(
                sound, asked.out, asked.minutes,
                rate=asked.rate, size=asked.batch, resume=asked.resume, each=each,
                processes=asked.processes,
            )  # fmt: skip
    except FileNotFoundError as error:
        sys.exit(f"{error.filename} is missing: run the stages before it")


if __name__ == "__main__":
    main()
