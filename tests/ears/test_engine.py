"""The first listener's two fronts, and what it may clean ahead."""

import numpy as np
import pytest

from assistant.ears.engine import CLEANED, Engine, Listening
from assistant.ears.sphinx.denoise import available
from assistant.grammar.network import read_network
from assistant.sound.samples import RATE_HZ, Samples
from tests.benchmarks.corpus_noise import mixed
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = [pytest.mark.skipif(not available(), reason="needs pyrnnoise"), needs_voice]

GRAMMAR = "#JSGF V1.0; grammar g; public <g> = bird (one | two) reads one (thirteen | thirty);"


@pytest.fixture(scope="module")
def engine() -> Engine:
    return Engine(Listening(read_network(GRAMMAR)))


@pytest.fixture(scope="module")
def noisy() -> Samples:
    return mixed(say("bird two reads one thirty"), "pink", 15.0, seed=1)


def test_a_closer_look_adds_the_cleaned_sound(engine: Engine, noisy: Samples) -> None:
    found = engine.look_closer(noisy, engine.recognise(noisy))
    assert [h.engine for h in found] == ["sphinx", f"sphinx {CLEANED}"]
    assert found[0].ratio is not None


def test_sound_cleaned_ahead_is_heard_as_if_it_had_not_been(engine: Engine, noisy: Samples) -> None:
    at_once = engine.look_closer(noisy, ())
    for end in range(RATE_HZ // 2, len(noisy), RATE_HZ // 5):
        engine.hear_ahead(noisy[:end])
    assert [h.words for h in engine.look_closer(noisy, ())] == [h.words for h in at_once]


def test_sound_cleaned_ahead_is_not_taken_for_another(engine: Engine, noisy: Samples) -> None:
    engine.hear_ahead(noisy)
    other = mixed(say("bird one reads one thirteen"), "pink", 15.0, seed=2)
    assert [h.words for h in engine.look_closer(other, ())] == ["bird one reads one thirteen"]


def test_no_sound_at_all_is_nothing_heard(engine: Engine) -> None:
    engine.hear_ahead(np.zeros(0, np.int16))
    assert engine.look_closer(np.zeros(0, np.int16), ()) == ()
