"""Recordings as the recognisers want them: 16 kHz, one channel, 16-bit."""

import errno
import io
import os
import wave
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import NDArray

from assistant.sound.samples import RATE_HZ, Samples
from assistant.system.files import NOT_PLAIN, is_replaceable
from assistant.system.parts import PartMissing, lazy

soundfile = lazy("soundfile")
soxr = lazy("soxr")

LONGEST_S = 4 * 3600.0
"""A recording longer than an evening at the grill is a mistake, not a cook."""

AT_ONCE_S, PIECE_S = 600.0, 60.0

MOST_BYTES = 1 << 30
MOST_VALUES = int(LONGEST_S * RATE_HZ)
"""Samples of all channels; a packed file can promise far more than its size."""

LOWEST_HZ, HIGHEST_HZ = 4_000, 768_000
_FULL_SCALE = 32767.0


class SoundError(Exception):
    """A recording that cannot be used; the message says why and what would work."""


def read_sound(path: Path) -> Samples:
    """The recording at `path` (WAV, FLAC and whatever libsndfile reads), any rate,
    channels and sample format, as int16 samples at 16 kHz.

    Raises SoundError for a missing, unreadable, empty or overlong file.
    """
    try:
        if path.exists() and not path.is_file():
            raise SoundError(f"{path}: cannot be read (not a file); name a WAV or FLAC file")
        if path.stat().st_size > MOST_BYTES:
            raise SoundError(f"{path}: is larger than {MOST_BYTES >> 20} MB; cut it")
        data = path.read_bytes()
    except OSError as error:
        reason = error.strerror or str(error)
        raise SoundError(f"{path}: cannot be read ({reason})") from error
    if not data:
        raise SoundError(f"{path}: is empty; record it again")
    return decode_sound(data, str(path))


def decode_sound(data: bytes, name: str = "recording") -> Samples:
    """As `read_sound`, for the bytes of a file; `name` opens the error messages."""
    try:
        with soundfile.SoundFile(io.BytesIO(data)) as sound:
            length_s = sound.frames / sound.samplerate
            if length_s > LONGEST_S:
                raise SoundError(f"{name}: lasts {length_s / 3600:.1f} h; cut it below 4 h")
            if not LOWEST_HZ <= sound.samplerate <= HIGHEST_HZ:
                raise SoundError(f"{name}: has {sound.samplerate} Hz; speech needs 8000 or more")
            if sound.frames * sound.channels > MOST_VALUES:
                raise SoundError(f"{name}: holds too much sound; cut it, or save it as 16 kHz mono")
            if length_s > AT_ONCE_S:
                return _by_pieces(sound)
            waves = sound.read(dtype="float32", always_2d=True)
            rate_hz = sound.samplerate
    except PartMissing as error:
        raise SoundError(f"{name}: {error}") from error
    except (soundfile.LibsndfileError, ValueError, TypeError, ZeroDivisionError) as error:
        raise SoundError(
            f"{name}: is not a sound file that can be read; use WAV or FLAC"
        ) from error
    if waves.shape[0] == 0:
        raise SoundError(f"{name}: holds no sound; record it again")
    try:
        return to_samples(waves.mean(axis=1), rate_hz)
    except PartMissing as error:
        raise SoundError(f"{name}: {error}") from error


def _by_pieces(sound: Any) -> Samples:
    """A long recording a minute at a time: hours of it as floats would fill the memory."""
    resampler = soxr.ResampleStream(sound.samplerate, RATE_HZ, 1, dtype="float32")
    pieces = []
    for block in sound.blocks(round(PIECE_S * sound.samplerate), dtype="float32", always_2d=True):
        clean = np.nan_to_num(block.mean(axis=1), nan=0.0, posinf=0.0, neginf=0.0)
        at_rate = resampler.resample_chunk(np.clip(clean, -1.0, 1.0))
        pieces.append(to_samples(at_rate, RATE_HZ))
    pieces.append(to_samples(resampler.resample_chunk(np.zeros(0, np.float32), last=True), RATE_HZ))
    return np.concatenate(pieces)


def to_samples(floats: NDArray[np.float32], rate_hz: int) -> Samples:
    """A float wave (full scale 1.0) at `rate_hz` as int16 samples at 16 kHz.

    Infinities and not-a-numbers, which float WAVs can hold, become silence.
    """
    clean = np.clip(np.nan_to_num(floats, nan=0.0, posinf=0.0, neginf=0.0), -1.0, 1.0)
    if rate_hz != RATE_HZ:
        clean = soxr.resample(clean, rate_hz, RATE_HZ)
    return np.clip(np.round(clean * _FULL_SCALE), -32768, 32767).astype(np.int16)


def opened_wav(path: Path, rate_hz: int) -> wave.Wave_write:
    """A WAV file of one channel and 16 bits to write into, little end first. Raises OSError."""
    if not is_replaceable(path):
        raise OSError(errno.EEXIST, NOT_PLAIN)
    path.unlink(missing_ok=True)
    # Made anew, for its owner: it may hold a voice, and no link is followed.
    os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600))
    file = wave.open(str(path), "wb")  # noqa: SIM115 -- whoever asked for it closes it
    file.setparams((1, 2, rate_hz, 0, "NONE", "not compressed"))
    return file


def write_sound(path: Path, samples: Samples) -> None:
    """Write int16 samples at 16 kHz as a WAV file. Raises OSError."""
    with opened_wav(path, RATE_HZ) as file:
        file.writeframes(samples.astype("<i2").tobytes())
