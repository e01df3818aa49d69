"""How loud the microphone hears: a running level, gentle automatic gain, and plain advice.

Levels are decibels below full scale (dBFS) of 16-bit samples; a full-scale sine is -3.
"""

import math
from dataclasses import dataclass, replace
from typing import Literal

import numpy as np

from assistant.sound.samples import Samples

SILENCE_DB = -96.0
CLIPPED_AT = 32_700
TARGET_SPEECH_DB = -23.0
MOST_GAIN_DB = 18.0
LEAST_GAIN_DB = -6.0
GAIN_STEP_DB = 0.5  # a block: at most some 15 dB a second, so a word is never pumped
HEADROOM_PEAK = 30_000.0
SPEECH_MEMORY = 0.05  # weight of one block (32 ms) in the running speech level
NOISE_RISE = 0.02  # the noise floor follows louder noise slowly and softer noise at once
CLIP_MEMORY = 0.02

Fault = Literal["silent", "clips", "too_quiet", "noisy"]
ADVICE: dict[Fault, str] = {
    "silent": "the microphone delivers nothing: unmute it, or choose another",
    "clips": "your microphone clips: turn its input down, or move it away",
    "too_quiet": "too quiet: turn the microphone's input up, or move it closer",
    "noisy": "the noise is as loud as you are: move the microphone closer, away from the fan",
}


def level_db(samples: Samples) -> float:
    """Root-mean-square level in dBFS."""
    if len(samples) == 0:
        return SILENCE_DB
    power = float(np.mean(np.square(samples.astype(np.float64) / 32_768)))
    return max(SILENCE_DB, 10 * math.log10(power)) if power > 0 else SILENCE_DB


@dataclass(frozen=True, slots=True)
class Level:
    """The running picture: noise and speech in dBFS (None: no speech yet), share of
    speech blocks that clip, and the gain in use."""

    now_db: float = SILENCE_DB
    noise_db: float | None = None
    speech_db: float | None = None
    clipped: float = 0.0
    gain_db: float = 0.0


def heard_block(level: Level, samples: Samples, *, is_speech: bool) -> Level:
    """The picture after one more block, as it came from the microphone."""
    now_db = level_db(samples)
    peak = float(np.max(np.abs(samples.astype(np.int32)), initial=0))
    after = replace(level, now_db=now_db)
    if not is_speech:
        floor = level.noise_db
        risen = now_db if floor is None or now_db < floor else floor + NOISE_RISE * (now_db - floor)
        return replace(after, noise_db=risen)
    known = level.speech_db
    speech_db = now_db if known is None else known + SPEECH_MEMORY * (now_db - known)
    clipped = level.clipped + CLIP_MEMORY * ((peak >= CLIPPED_AT) - level.clipped)
    wanted = min(MOST_GAIN_DB, max(LEAST_GAIN_DB, TARGET_SPEECH_DB - speech_db))
    step = max(-GAIN_STEP_DB, min(GAIN_STEP_DB, wanted - level.gain_db))
    gain_db = level.gain_db + step
    if peak > 0:
        gain_db = min(gain_db, max(LEAST_GAIN_DB, 20 * math.log10(HEADROOM_PEAK / peak)))
    return replace(after, speech_db=speech_db, clipped=clipped, gain_db=gain_db)


def amplified(samples: Samples, gain_db: float) -> Samples:
    """Samples made louder or softer, held within 16 bits."""
    if gain_db == 0.0:
        return samples
    wave = samples.astype(np.float32) * math.pow(10.0, gain_db / 20)
    return np.clip(np.round(wave), -32_768, 32_767).astype(np.int16)


def levelled(samples: Samples, gain_db: float) -> Samples:
    """A whole utterance by one gain, less where it would be cut off at the top: a gain that
    moves within a word spoils the word (`amplified` follows the moment)."""
    peak = float(np.max(np.abs(samples.astype(np.int32)), initial=0))
    room_db = 20 * math.log10(HEADROOM_PEAK / peak) if peak > 0 else gain_db
    return amplified(samples, min(gain_db, room_db))


def fault_of(level: Level) -> Fault | None:
    """What is wrong with the input, the worst first; None when it will do."""
    if level.speech_db is None:
        return "silent" if level.now_db <= SILENCE_DB + 1 else None
    if level.clipped > 0.05:
        return "clips"
    if level.noise_db is not None and level.speech_db - level.noise_db < 6.0:
        return "noisy"
    if level.speech_db < -48.0:
        return "too_quiet"
    return None


def fault_of_recording(noise: Samples, speech: Samples) -> Fault | None:
    """What is wrong, judged from two recordings: nobody speaking, then the cook speaking."""
    if level_db(noise) <= SILENCE_DB + 1 and level_db(speech) <= SILENCE_DB + 1:
        return "silent"
    block = 512
    pieces = [speech[at : at + block] for at in range(0, len(speech) - block, block)]
    loudest = sorted(pieces, key=level_db)[-max(1, len(pieces) // 3) :]
    joined = np.concatenate(loudest) if loudest else speech
    clipped = sum(1 for piece in loudest if np.max(np.abs(piece.astype(np.int32))) >= CLIPPED_AT)
    found = Level(
        now_db=level_db(speech),
        noise_db=level_db(noise),
        speech_db=level_db(joined),
        clipped=clipped / max(1, len(loudest)),
    )
    return fault_of(found)


def meter(level: Level, width: int = 8) -> str:
    """The running level as a short bar from -60 to 0 dBFS, with a word when something is wrong."""
    share = min(1.0, max(0.0, (level.now_db + 60.0) / 60.0))
    bar = "#" * round(share * width)
    fault = fault_of(level)
    words = {"silent": " silent", "clips": " clips", "too_quiet": " quiet", "noisy": " noisy"}
    return f"mic [{bar:<{width}}]{words[fault] if fault else ''}"
