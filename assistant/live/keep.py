"""Keeping the evening's sound, on request: the segments around commands, nothing else."""

import re
import shlex
from datetime import datetime
from pathlib import Path

from assistant.ears.heard import Heard
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system.parts import PartMissing, lazy

soundfile = lazy("soundfile")

NAME_LETTERS = 48


def segment_name(at: datetime, heard: Heard) -> str:
    """Sorts by time and tells the outcome: `181502_accept_bird_two_reads_one_thirty.flac`."""
    words = re.sub(r"[^a-z0-9]+", "_", heard.words.lower()).strip("_")[:NAME_LETTERS].strip("_")
    return f"{at:%H%M%S}_{heard.outcome}_{words or 'no_words'}.flac"


class KeptAudio:
    """A folder of FLAC files, one an utterance that was understood or refused."""

    def __init__(self, folder: Path) -> None:
        """Raises OSError when the folder cannot be made."""
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        self.folder = folder

    def notice(self) -> str:
        """Where the recordings lie and how to delete them."""
        quoted = shlex.quote(str(self.folder))
        return f"what you say to me is kept in {quoted}; delete it with: rm -r {quoted}"

    def keep(self, samples: Samples, heard: Heard, at: datetime) -> str | None:
        """Write one segment; a line of what went wrong, or None."""
        path = self.folder / segment_name(at, heard)
        number = 1
        while path.exists():
            number += 1
            path = path.with_stem(f"{path.stem.removesuffix(f'_{number - 1}')}_{number}")
        try:
            soundfile.write(path, samples, RATE_HZ, subtype="PCM_16")
        except PartMissing as error:
            return str(error)
        except (OSError, soundfile.LibsndfileError) as error:
            path.unlink(missing_ok=True)
            return f"the recording was not kept: {error}"
        return None
