import random
import re
from pathlib import Path

import numpy as np
import pytest

from assistant.ears.whisper.fitting import fitted, split
from assistant.grammar.grammar import ADDRESS
from tests.benchmarks.corpora_people import recorded
from tests.benchmarks.corpus import NEVER_FITTED, pink
from tests.fitting import kokoro
from tests.fitting.average import averaged
from tests.fitting.free_speech import expanded, rules
from tests.fitting.sentences import banned, make_sentences
from tests.fitting.sounds import in_noise
from tests.fitting.voices import COUNTS, ESPEAK


def test_no_longer_training_sentence_is_said_in_the_corpora() -> None:
    made = make_sentences(0.04)
    said = (*made.commands, *made.talk, *made.free, *made.numbers)
    longer = {words.removeprefix(f"{ADDRESS} ") for words in said if len(words.split()) > 3}
    assert len(longer) > 100
    assert not longer & banned()


def test_no_voice_kept_for_the_test_is_trained_on() -> None:
    assert not {*ESPEAK, *COUNTS} & {*NEVER_FITTED, *kokoro.NEVER_FITTED}


def test_no_speaker_is_both_fitted_on_and_reported_on() -> None:
    for corpus in ("an4", "readers", "nonnative"):
        fitted_on, kept = (
            {one.speaker for one in recorded(corpus, development=half)} for half in (True, False)
        )
        assert not fitted_on & kept


def test_every_rule_of_free_speech_leads_to_words() -> None:
    """Each rule of the file can be said, down to words without a slot."""
    rng = random.Random(3)
    said = {expanded(rng, rule) for rule in rules() for _ in range(20)}
    assert all(re.fullmatch(r"[a-z' ]+", words) for words in said)


@pytest.mark.parametrize("snr_db", [-2.0, 10.0, 45.0])
def test_noise_has_the_wanted_level(snr_db: float) -> None:
    rng = np.random.default_rng(5)
    speech = np.sin(np.arange(16000) * 0.1)
    level = float(np.sqrt(np.mean(speech**2)))
    added = in_noise(speech, pink(16000, rng) * 7, level, snr_db) - speech
    found = 20 * np.log10(level / np.sqrt(np.mean(added**2)))
    assert abs(found - snr_db) < 1


def test_a_change_kept_in_steps_is_nearly_the_change(tmp_path: Path) -> None:
    rng = np.random.default_rng(1)
    before = {"a/weight": rng.standard_normal((6, 40, 3)), "b/bias": rng.standard_normal(9)}
    change = {name: rng.standard_normal(array.shape) * 0.01 for name, array in before.items()}
    after = {name: array + change[name] for name, array in before.items()}
    np.savez_compressed(tmp_path / "f.npz", **split(before, after))  # type: ignore[arg-type]
    found = fitted(before, tmp_path / "f.npz")
    missed = np.linalg.norm(found["a/weight"] - after["a/weight"])  # type: ignore[operator]
    assert missed < 0.12 * np.linalg.norm(change["a/weight"])
    assert np.allclose(found["b/bias"], after["b/bias"], atol=2e-3)


def test_the_mean_of_fittings_lies_between_them(tmp_path: Path) -> None:
    rng = np.random.default_rng(2)
    before = {"a/weight": rng.standard_normal((4, 30)), "b/bias": np.zeros(3)}
    shifts = [rng.standard_normal((4, 30)) * 0.1 for _ in range(2)]
    for n, shift in enumerate(shifts):
        after = {"a/weight": before["a/weight"] + shift, "b/bias": np.full(3, float(n))}
        np.savez_compressed(tmp_path / f"{n}.npz", **split(before, after))  # type: ignore[arg-type]
    mean = averaged(before, [tmp_path / "0.npz", tmp_path / "1.npz"])
    assert np.allclose(mean["b/bias"], 0.5)
    assert np.allclose(mean["a/weight"], before["a/weight"] + sum(shifts) / 2, atol=0.03)


def test_an_untrained_network_saves_what_changes_nothing(tmp_path: Path) -> None:
    pytest.importorskip("torch", reason="torch is not installed (pip install torch==2.13.0)")
    from assistant.ears.whisper.files import find_model, read_weights
    from tests.fitting.network import Network

    raw = read_weights(find_model() / "model.bin")
    network = Network(raw)
    network.save(tmp_path / "f.npz", network.trained())
    name = "encoder/layer_0/ffn/linear_0/weight"
    after = fitted(raw, tmp_path / "f.npz")
    assert np.allclose(after[name], np.asarray(raw[name], np.float32), atol=1e-6)
