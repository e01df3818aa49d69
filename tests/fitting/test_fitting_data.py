import numpy as np
import pytest

from assistant.ears.whisper.fitting import fitted
from tests.benchmarks.corpus import NEVER_FITTED, pink
from tests.fitting.sentences import banned, make_sentences
from tests.fitting.sounds import in_noise
from tests.fitting.voices import COUNTS, ESPEAK


def test_no_longer_training_sentence_is_said_in_the_corpora() -> None:
    made = make_sentences(300, 50)
    longer = {words for words in (*made.commands, *made.talk) if len(words.split()) > 3}
    assert len(longer) > 100
    assert not longer & banned()


def test_no_voice_kept_for_the_test_is_trained_on() -> None:
    assert not {*ESPEAK, *COUNTS} & set(NEVER_FITTED)


@pytest.mark.parametrize("snr_db", [-2.0, 10.0, 45.0])
def test_noise_has_the_wanted_level(snr_db: float) -> None:
    rng = np.random.default_rng(5)
    speech = np.sin(np.arange(16000) * 0.1)
    level = float(np.sqrt(np.mean(speech**2)))
    added = in_noise(speech, pink(16000, rng) * 7, level, snr_db) - speech
    found = 20 * np.log10(level / np.sqrt(np.mean(added**2)))
    assert abs(found - snr_db) < 1


def test_products_with_nothing_learnt_leave_the_weights_as_they_were(tmp_path) -> None:
    rng = np.random.default_rng(1)
    weights = {"a/weight": rng.standard_normal((6, 4, 3)).astype(np.float32)}
    left = rng.standard_normal((2, 12)).astype(np.float16)
    np.savez(tmp_path / "f.npz", **{"a/A": left, "a/B": np.zeros((6, 2), np.float16)})
    merged = fitted(weights, tmp_path / "f.npz")
    assert np.array_equal(merged["a/weight"], weights["a/weight"])


def test_an_untrained_network_saves_what_changes_no_product(tmp_path) -> None:
    pytest.importorskip("torch", reason="torch is not installed (pip install torch==2.13.0)")
    from assistant.ears.whisper.files import find_model, read_weights
    from tests.fitting.network import Network

    Network(find_model()).save(tmp_path / "f.npz")
    raw = read_weights(find_model() / "model.bin")
    name = "encoder/layer_0/ffn/linear_0/weight"
    merged = fitted(raw, tmp_path / "f.npz")
    assert np.array_equal(merged[name], np.asarray(raw[name], np.float32))
