"""Which recogniser listens, and what becomes of its failures: scripted, in real children."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from assistant.cook.vocabulary.commands import BirdReading
from assistant.ears import ears as module
from assistant.ears.ears import Ears, EarsError
from assistant.ears.vosk.model_finder import VoskMissing
from assistant.ears.whisper.files import ModelMissing
from assistant.grammar.grammar import Names
from tests.ears.scripted import (
    DYING,
    DYING_ONCE,
    HANGING,
    SURE,
    TALK,
    TORN,
    Scripted,
    Unmakeable,
    sound,
)

TONIGHT = Names(3, ("apricot",))


@pytest.fixture
def scripted(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TURNSPIT_SCRIPTED", str(tmp_path / "died"))
    monkeypatch.setattr(module, "WhisperRecogniser", Scripted)
    monkeypatch.setattr(module, "VoskRecogniser", Unmakeable)
    monkeypatch.setattr(module, "find_model", lambda: None)
    monkeypatch.setattr(module, "usable_vosk", lambda: Path("model"))


@pytest.fixture
def ears(scripted: None) -> Iterator[Ears]:
    made = Ears(TONIGHT)
    yield made
    made.close()


def reads_thirty(ears: Ears, kind: int) -> bool:
    heard = ears.hear(sound(kind))
    reading = heard.command
    return isinstance(reading, BirdReading) and (reading.bird, reading.temperature) == (2, 130)


def test_what_the_recogniser_is_sure_of_is_taken(ears: Ears) -> None:
    assert reads_thirty(ears, SURE)


def test_what_it_is_torn_between_is_asked(ears: Ears) -> None:
    heard = ears.hear(sound(TORN))
    assert heard.outcome == "ask"
    assert {command.temperature for command in heard.alternatives} == {113, 130}


def test_speech_like_no_command_is_refused(ears: Ears) -> None:
    assert ears.hear(sound(TALK)).outcome == "refuse"


def test_an_utterance_it_died_of_once_is_heard_all_the_same(ears: Ears) -> None:
    assert reads_thirty(ears, DYING_ONCE)


def test_an_utterance_it_dies_of_every_time_costs_that_utterance_alone(ears: Ears) -> None:
    assert ears.hear(sound(DYING)).outcome == "refuse"
    assert reads_thirty(ears, SURE)


def test_an_utterance_it_hangs_on_is_given_up_and_not_tried_again(
    ears: Ears, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "_AGAIN_WITHIN_S", 0.1)
    ears._child.timeout_s = 0.2
    assert ears.hear(sound(HANGING)).outcome == "refuse"
    assert ears._child.restarts == 0
    ears._child.timeout_s = 20.0
    assert reads_thirty(ears, SURE)


def test_a_name_that_cannot_be_listened_for_is_named_and_changes_nothing(ears: Ears) -> None:
    with pytest.raises(EarsError, match="zhoug"):
        ears.set_names(Names(1, ("zhoug",)))
    assert reads_thirty(ears, SURE)
    ears._child.close_after_failure()
    assert reads_thirty(ears, SURE)


def test_a_whisper_that_cannot_be_made_is_told_of_once_and_vosk_listens(
    scripted: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(module, "WhisperRecogniser", Unmakeable)
    monkeypatch.setattr(module, "VoskRecogniser", Scripted)
    told: list[str] = []
    ears = Ears(TONIGHT, notice=told.append)
    assert ears.engine_name == "vosk"
    ears.close()
    assert told == ["Whisper is left out: the file is damaged; install it again"]


def test_a_vosk_that_cannot_be_used_is_told_of_and_whisper_listens(
    scripted: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none_found() -> Path:
        raise VoskMissing("no English Vosk model found")

    monkeypatch.setattr(module, "usable_vosk", none_found)
    told: list[str] = []
    ears = Ears(TONIGHT, engine="vosk", notice=told.append)
    assert ears.engine_name == "whisper"
    ears.close()
    assert told == ["Vosk is left out: no English Vosk model found"]


def test_without_any_recogniser_one_line_says_why(
    scripted: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def missing() -> None:
        raise ModelMissing("Whisper's model is not installed")

    monkeypatch.setattr(module, "find_model", missing)
    with pytest.raises(EarsError, match=r"not installed; Vosk is left out: the file is damaged"):
        Ears(TONIGHT)
