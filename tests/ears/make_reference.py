"""What Whisper tiny.en's own engine makes of one sentence: python -m tests.ears.make_reference

Writes `fixtures/whisper_reference.npz`, which test_whisper_reference.py compares our arithmetic
with. The weights are the published ones, without our fitting. It needs, and nothing else does:

    pip install ctranslate2==4.8.5 transformers==5.24.0

CTranslate2 is the engine the file of the weights was made for; the features are those of
transformers' `WhisperFeatureExtractor`, the published preprocessing, over its window of 30 s.
The voice is flite's slt.
"""

import sys
from pathlib import Path

import numpy as np

from assistant.ears.endpointer import spoken_span
from assistant.ears.whisper.files import find_model, read_vocabulary
from assistant.sound.samples import RATE_HZ
from tests.ears.voice_at_hand import say

KEPT = Path(__file__).parent / "fixtures" / "whisper_reference.npz"
SAID = "bird two reads one thirteen"
FRAMES_A_S = 100
ROWS = 20  # one row of the encoder in so many is kept,
BEST = 200  # and so many words at each step


def main() -> int:
    """Make the reference and say how large it is."""
    import ctranslate2
    import transformers

    sound = say(SAID)
    sound = sound[spoken_span(sound)]
    extractor = transformers.WhisperFeatureExtractor(feature_size=80)
    window = extractor(sound / 32768.0, sampling_rate=RATE_HZ, return_tensors="np")
    features = np.ascontiguousarray(window.input_features[0], np.float32)
    spoken = len(sound) * FRAMES_A_S // RATE_HZ + 4  # the last windows reach into the sound
    assert np.ptp(features[:, spoken:]) == 0.0

    model = ctranslate2.models.Whisper(str(find_model()), compute_type="float32")
    memory = model.encode(ctranslate2.StorageView.from_array(features[None]))
    vocabulary = read_vocabulary(find_model() / "vocabulary.txt")
    opening = [vocabulary.tokens["<|startoftranscript|>"], vocabulary.tokens["<|notimestamps|>"]]
    tokens = [*opening, *vocabulary.encode(SAID)]
    (found,) = model.generate(
        memory, [tokens], beam_size=1, suppress_blank=False, suppress_tokens=[],
        return_logits_vocab=True,
    )  # fmt: skip
    logits = np.array([np.array(step).ravel() for step in found.logits[0]], np.float64)
    logits -= logits.max(axis=1, keepdims=True)
    chances = logits - np.log(np.exp(logits).sum(axis=1, keepdims=True))
    best = np.argsort(-chances, axis=1)[:, :BEST]

    KEPT.parent.mkdir(exist_ok=True)
    np.savez_compressed(
        KEPT, sound=sound, features=features[:, :spoken], tokens=tokens,
        encoded=np.array(memory)[0, ::ROWS].astype(np.float16), best=best.astype(np.uint16),
        log_p=np.take_along_axis(chances, best, axis=1).astype(np.float32),
        made_by=f"ctranslate2 {ctranslate2.__version__}, transformers {transformers.__version__}",
    )  # fmt: skip
    print(f"{KEPT}: {KEPT.stat().st_size / 1024:.0f} kB, {len(sound) / RATE_HZ:.2f} s of sound")
    return 0


if __name__ == "__main__":
    sys.exit(main())
