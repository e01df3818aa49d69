"""Make the second listener's fitting: python -m tests.fitting --help."""

import argparse
import sys
from pathlib import Path

from tests.fitting.noises import TRACKS
from tests.fitting.sentences import COMMANDS, TALK, Sentences, make_sentences
from tests.fitting.train import train
from tests.fitting.voices import make_voices

STAGES = ("sentences", "voices", "train")


def main() -> None:
    """Run the stages asked for, all by default."""
    parser = argparse.ArgumentParser(prog="python -m tests.fitting", description=__doc__)
    parser.add_argument("--folder", type=Path, required=True, help="sentences and sound")
    parser.add_argument("--out", type=Path, default=Path("second_listener_fitting.npz"))
    parser.add_argument("--stage", choices=STAGES, action="append", help="default: all")
    parser.add_argument("--minutes", type=float, default=26)
    parser.add_argument("--rate", type=float, default=2e-3, help="1e-3 when going on")
    parser.add_argument("--batch", type=int, default=24)
    parser.add_argument("--resume", type=Path, help="a fitting to go on from")
    parser.add_argument("--share", type=float, default=1.0, help="under 1: a small trial")
    asked = parser.parse_args()
    stages = asked.stage or STAGES
    asked.folder.mkdir(parents=True, exist_ok=True)
    kept, sound, share = asked.folder / "sentences.json", asked.folder / "sound", asked.share
    try:
        if "sentences" in stages:
            make_sentences(round(COMMANDS * share), round(TALK * share)).write(kept)
        if "voices" in stages:
            said = make_voices(Sentences.read(kept), sound, share)
            print(f"{len(said)} sentences said", file=sys.stderr)
        if "train" in stages:
            each = max(1, round(TRACKS * share))
            train(
                sound, asked.out, asked.minutes,
                rate=asked.rate, size=asked.batch, resume=asked.resume, each=each,
            )  # fmt: skip
    except FileNotFoundError as error:
        sys.exit(f"{error.filename} is missing: run the stages before it")


if __name__ == "__main__":
    main()
