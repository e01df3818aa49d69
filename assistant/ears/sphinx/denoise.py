"""Noise suppression by RNNoise, for PocketSphinx only: it spoils Whisper's hearing.

Valin 2018, "A Hybrid DSP/Deep Learning Approach to Real-Time Full-Band Speech
Enhancement". The library is the one inside the pyrnnoise package, called directly.
"""

import ctypes
import importlib.util
import platform
import weakref
from functools import cache
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from assistant.sound.samples import RATE_HZ, Samples
from assistant.system.parts import lazy

soxr = lazy("soxr")

_LIBRARIES = {"Linux": "librnnoise.so", "Darwin": "librnnoise.dylib", "Windows": "rnnoise.dll"}
_INNER_HZ = 48_000
_UP = _INNER_HZ // RATE_HZ
_FRAME = RATE_HZ // 100
_AROUND = 160
"""Samples on both sides of a piece that the change of rate looks at."""

_DELAY_FRAMES = 2
LAG_S = 0.06
"""How far cleaned sound lags behind: RNNoise's delay, both changes of rate, a frame each."""

SETTLE_S = 1.0
"""RNNoise learns the noise as it goes: a whole clip hears its own opening first."""


class DenoiserMissing(Exception):  # noqa: N818 -- named for what is so
    """RNNoise is not installed here; the message says what would bring it."""


@cache
def _library() -> ctypes.CDLL:
    found = importlib.util.find_spec("pyrnnoise")
    name = _LIBRARIES.get(platform.system(), "")
    folders = found.submodule_search_locations if found else None
    path = Path(next(iter(folders))) / name if folders else Path()
    if not name or not path.is_file():
        raise DenoiserMissing("noise suppression is not installed (pip install pyrnnoise)")
    library = ctypes.CDLL(str(path))
    library.rnnoise_create.restype = ctypes.c_void_p
    library.rnnoise_create.argtypes = [ctypes.c_void_p]
    library.rnnoise_destroy.argtypes = [ctypes.c_void_p]
    library.rnnoise_process_frame.restype = ctypes.c_float
    library.rnnoise_process_frame.argtypes = [ctypes.c_void_p] * 3
    return library


def available() -> bool:
    """Whether RNNoise can be used on this machine."""
    try:
        _library()
    except (DenoiserMissing, OSError):
        return False
    return True


class Denoiser:
    """RNNoise on a sound that still goes on: `feed` it pieces of any size in order.

    What comes out belongs to the same moments as what went in and lags `LAG_S` behind.
    Raises DenoiserMissing where the library is not installed.
    """

    def __init__(self) -> None:
        library = _library()
        state = library.rnnoise_create(None)
        weakref.finalize(self, library.rnnoise_destroy, state)
        self._state, self._process = state, library.rnnoise_process_frame
        self._late = _DELAY_FRAMES * _FRAME * _UP
        self._noisy = np.zeros(_AROUND, np.float32)
        self._clean = np.zeros(_AROUND * _UP, np.float32)

    def feed(self, samples: Samples) -> Samples:
        """Take the next samples; the cleaned ones that this completes."""
        self._noisy = np.concatenate([self._noisy, samples.astype(np.float32)])
        frames = (len(self._noisy) - 2 * _AROUND) // _FRAME
        if frames < 1:
            return np.zeros(0, np.int16)
        wave = _resampled(self._noisy, frames, _FRAME, RATE_HZ, _INNER_HZ)
        self._noisy = self._noisy[frames * _FRAME :]
        start = wave.ctypes.data
        for place in range(start, start + wave.nbytes, 4 * _FRAME * _UP):
            self._process(self._state, place, place)
        dropped = min(self._late, len(wave))
        self._late -= dropped
        self._clean = np.concatenate([self._clean, wave[dropped:]])
        frames = max(0, (len(self._clean) // _UP - 2 * _AROUND) // _FRAME)
        clean = _resampled(self._clean, frames, _FRAME * _UP, _INNER_HZ, RATE_HZ)
        self._clean = self._clean[frames * _FRAME * _UP :]
        out: Samples = np.clip(np.round(clean), -32768, 32767).astype(np.int16)
        return out


def _resampled(
    wave: NDArray[np.float32], frames: int, frame: int, from_hz: int, to_hz: int
) -> NDArray[np.float32]:
    """`frames` of `frame` samples at the other rate; `wave` holds what the filter sees
    before them, too, and after them."""
    around = _AROUND * from_hz // RATE_HZ
    inner = wave[: frames * frame + 2 * around]
    edge = around * to_hz // from_hz
    resampled = soxr.resample(inner, from_hz, to_hz)[
        edge : edge + frames * frame * to_hz // from_hz
    ]
    return np.ascontiguousarray(resampled, np.float32)


class Ahead:
    """Cleans one utterance while it is still being said.

    RNNoise learns the noise as it goes, so the opening second is heard twice, the first
    time backwards. Raises DenoiserMissing where the library is not installed.
    """

    def __init__(self, opening: Samples) -> None:
        self._denoiser = Denoiser()
        backwards = opening[: int(SETTLE_S * RATE_HZ)][::-1]
        self._settling = len(backwards)
        self._clean = self._denoiser.feed(backwards)
        self._heard: Samples = np.zeros(0, np.int16)

    def goes_with(self, samples: Samples) -> bool:
        """Whether `samples` is the same utterance, longer or shorter than it was heard."""
        shared = min(len(samples), len(self._heard))
        return bool(np.array_equal(samples[:shared], self._heard[:shared]))

    def cleaned(self, samples: Samples) -> Samples:
        """The utterance so far, cleaned; its last `LAG_S` may be missing. Only what is
        new since the last call is worked on."""
        new = samples[len(self._heard) :]
        if len(new):
            self._clean = np.concatenate([self._clean, self._denoiser.feed(new)])
            self._heard = samples
        return self._clean[self._settling : self._settling + len(samples)]


def denoised(samples: Samples) -> Samples:
    """The clip with its steady noise suppressed, same length.

    Raises DenoiserMissing where the library is not installed.
    """
    after = np.zeros(int(LAG_S * RATE_HZ), np.int16)
    return Ahead(samples).cleaned(np.concatenate([samples, after]))[: len(samples)]
