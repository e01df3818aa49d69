"""Noise suppression by RNNoise, for PocketSphinx only: it spoils Whisper's hearing.

Valin 2018, "A Hybrid DSP/Deep Learning Approach to Real-Time Full-Band Speech
Enhancement". The library is the one inside the pyrnnoise package, called directly.
"""

import ctypes
import importlib.util
import platform
from functools import cache
from pathlib import Path

import numpy as np
import soxr

from assistant.ears.heard import RATE_HZ, Samples

_LIBRARIES = {"Linux": "librnnoise.so", "Darwin": "librnnoise.dylib", "Windows": "rnnoise.dll"}
_INNER_HZ = 48_000
_DELAY_FRAMES = 2
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


def denoised(samples: Samples) -> Samples:
    """The clip with its steady noise suppressed, same length.

    Raises DenoiserMissing where the library is not installed.
    """
    library = _library()
    lead = samples[: int(SETTLE_S * RATE_HZ)][::-1]
    fed = np.concatenate([lead, samples]).astype(np.float32)
    wave = soxr.resample(fed, RATE_HZ, _INNER_HZ)
    frame = library.rnnoise_get_frame_size()
    delay = _DELAY_FRAMES * frame
    wave = np.pad(wave, (0, delay + -len(wave) % frame))
    wave = np.ascontiguousarray(wave, np.float32)
    state = library.rnnoise_create(None)
    try:
        start = wave.ctypes.data
        for place in range(start, start + wave.nbytes, 4 * frame):
            library.rnnoise_process_frame(state, place, place)
    finally:
        library.rnnoise_destroy(state)
    clean = soxr.resample(wave[delay:], _INNER_HZ, RATE_HZ)[len(lead) : len(lead) + len(samples)]
    out: Samples = np.clip(np.round(clean), -32768, 32767).astype(np.int16)
    return out
