"""The baseline of the hearing benchmark: the same Whisper model as it came, held to the same
grammar, its best sentence taken. No fitting, no weighing, no refusal.
"""

import hashlib
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from assistant.ears.ears import Ears
from assistant.grammar.grammar import Names
from assistant.sound.samples import Samples
from tests.benchmarks.corpus import FOLDER

_VERSION = 2


@dataclass
class Baseline:
    """What it heard is kept in the corpus folder under `tag` and a key."""

    tag: str
    names: Names | None = None
    jsgf: str | None = None

    @cached_property
    def _ears(self) -> Ears:
        return Ears(self.names, jsgf=self.jsgf, engine="whisper", is_fitted=False)

    def words(self, key: str, samples: Samples) -> str:
        """What it hears in the utterance; nothing where no whole sentence fits."""
        path = self._path(key)
        if not path.is_file():
            path.parent.mkdir(parents=True, exist_ok=True)
            found = self._ears.listen(samples).sentences
            path.write_text(found[0].words if found else "")
        return path.read_text()

    def kept(self, key: str) -> str | None:
        """What it heard before; None where it never listened."""
        path = self._path(key)
        return path.read_text() if path.is_file() else None

    def close(self) -> None:
        """End what listened."""
        if "_ears" in self.__dict__:
            self._ears.close()

    def _path(self, key: str) -> Path:
        name = hashlib.sha256(f"{_VERSION}|{self.tag}|{key}".encode()).hexdigest()[:24]
        return FOLDER / "plain" / f"{name}.txt"
