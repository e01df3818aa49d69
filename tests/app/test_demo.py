"""The demo: an invented dinner, spoken and heard; mended like a person would."""

import shutil
from collections import Counter
from collections.abc import Callable
from pathlib import Path

import numpy as np
import pytest
import soundfile

from assistant.app import demo
from assistant.app.rehearse import Step, read_script
from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.ears.heard import Heard
from assistant.grammar.grammar import Names
from assistant.grammar.parse import parse
from assistant.journal.reader import JournalReader
from assistant.session.line import Line
from assistant.session.session import Session
from assistant.sound.samples import RATE_HZ, Samples, Sound
from assistant.system import places
from assistant.voice.synth import VoiceError

TONIGHT = Names(birds=3, sauces=("apricot", "harissa"))


class Letters:
    """A mouth whose sound is its words as numbers, so that a test's ear can read them."""

    def __init__(self, *_: object) -> None:
        pass

    def say(self, words: str, *, again: bool = False) -> Samples:
        return np.frombuffer(words.encode("utf-16-le"), np.int16)


def letters(samples: Samples) -> str:
    return samples.tobytes().decode("utf-16-le")


def understood(words: str) -> Heard:
    return Heard(words, parse(words, TONIGHT), 0.9, "accept")


def perfect(samples: Samples, _: Session) -> Heard:
    return understood(letters(samples))


Evening = Callable[..., tuple[demo.Outcome, Cook, list[Line]]]


@pytest.fixture
def dinner(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Evening:
    """Run the script's lines up to `until` with an ear of the test and no voice; what
    came of it, and the cook as its journal tells it."""
    silence = Sound(np.zeros(100, np.int16), RATE_HZ)
    monkeypatch.setattr(demo, "find_synth", lambda: lambda *_: silence)
    monkeypatch.setattr(demo, "Mouth", Letters)

    def run(ear: demo.Ear, until: str = "") -> tuple[demo.Outcome, Cook, list[Line]]:
        shown: list[Line] = []
        steps = read_script(places.shipped("demo_sessions") / demo.SCRIPT)
        last = next((place for place, step in enumerate(steps) if step.words == until), len(steps))
        monkeypatch.setattr(demo, "read_script", lambda _: steps[: last + 1])
        outcome = demo.run_demo(shown.append, ear, tmp_path)
        with JournalReader(outcome.journal) as journal:
            return outcome, fold(journal.events(journal.find("family dinner").id)), shown

    return run


def test_a_perfect_ear_understands_every_line_and_one_is_asked_back(dinner: Evening) -> None:
    outcome, cook, shown = dinner(perfect)
    assert outcome.exact == outcome.spoken
    assert (outcome.mended, outcome.asked_back) == (0, 1)
    assert {line.kind for line in shown} >= {"heard", "event", "said", "forecast", "next_check"}
    assert all(bird.is_pulled for bird in cook.birds)


def test_the_number_asked_back_never_enters_the_record(dinner: Evening) -> None:
    _, cook, _ = dinner(perfect, until="one eighteen")
    third = cook.bird(3)
    assert third is not None
    readings = [reading.temperature_f for reading in third.readings]
    assert 118.0 in readings
    assert 180.0 not in readings


def test_what_was_not_understood_is_said_again_once(dinner: Evening) -> None:
    times = Counter[str]()

    def deaf_at_first(samples: Samples, _: Session) -> Heard:
        words = letters(samples)
        times[words] += 1
        if words == "fire is lit" and times[words] == 1:
            return Heard("", None, 0.0, "refuse", reason="not clear")
        return understood(words)

    outcome, cook, _ = dinner(deaf_at_first, until="fire is lit")
    assert (outcome.mended, outcome.spoken - outcome.exact) == (1, 1)
    assert cook.fire.lit_s is not None


def test_a_cook_whose_last_words_are_never_understood_is_ended_all_the_same(
    dinner: Evening,
) -> None:
    def deaf_to_the_end(samples: Samples, _: Session) -> Heard:
        words = letters(samples)
        if words == "fire is lit":
            return Heard("", None, 0.0, "refuse", reason="not clear")
        return understood(words)

    outcome, cook, _ = dinner(deaf_to_the_end, until="fire is lit")
    assert (outcome.exact, outcome.mended) == (0, 1)
    assert not cook.is_running


def test_what_was_heard_wrong_is_taken_back_and_said_again(dinner: Evening) -> None:
    times = Counter[str]()

    def wrong_at_first(samples: Samples, _: Session) -> Heard:
        words = letters(samples)
        times[words] += 1
        if words == "the grill is three fifty" and times[words] == 1:
            return understood("the grill is three fifteen")
        return understood(words)

    outcome, cook, _ = dinner(wrong_at_first, until="the grill is three fifty")
    assert (outcome.mended, outcome.spoken - outcome.exact) == (1, 1)
    assert 315.0 not in [reading.temperature_f for reading in cook.fire.readings]
    assert 350.0 in [reading.temperature_f for reading in cook.fire.readings]


def test_a_question_the_script_did_not_foresee_is_answered_by_its_place(dinner: Evening) -> None:
    unsure_of = "bird two reads ninety six"

    def unsure(samples: Samples, _: Session) -> Heard:
        words = letters(samples)
        if words != unsure_of:
            return understood(words)
        options = (parse("bird two reads sixty six", TONIGHT), parse(words, TONIGHT))
        return Heard(words, None, 0.4, "ask", alternatives=options)

    outcome, cook, _ = dinner(unsure, until=unsure_of)
    second = cook.bird(2)
    assert second is not None
    assert outcome.asked_back == 1
    assert [one.temperature_f for one in second.readings] == [96.0]


def test_a_question_without_the_right_answer_is_denied_and_the_line_said_again(
    dinner: Evening,
) -> None:
    times = Counter[str]()

    def mistaken(samples: Samples, _: Session) -> Heard:
        words = letters(samples)
        times[words] += 1
        if words != "the grill is three fifty" or times[words] > 1:
            return understood(words)
        options = (understood("the grill is three fifteen").command, understood("undo").command)
        return Heard(words, None, 0.4, "ask", alternatives=options)  # type: ignore[arg-type]

    outcome, cook, _ = dinner(mistaken, until="the grill is three fifty")
    assert outcome.asked_back == 1
    assert [reading.temperature_f for reading in cook.fire.readings] == [350.0]


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("espeak-ng") is None, reason="espeak-ng is not installed")
def test_the_real_recogniser_hears_the_birds_onto_the_spit(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    steps = read_script(places.shipped("demo_sessions") / demo.SCRIPT)
    on = next(place for place, step in enumerate(steps) if isinstance(step.command, cmd.BirdsOn))
    monkeypatch.setattr(demo, "read_script", lambda _: steps[: on + 1])
    with demo.ears(lambda _: None) as ear:
        outcome = demo.run_demo(lambda _: None, ear, tmp_path)
    assert outcome.exact >= 0.8 * outcome.spoken
    with JournalReader(outcome.journal) as journal:
        cook = fold(journal.events(journal.find().id))
    assert [bird.has_been_on for bird in cook.birds] == [True] * 3
    assert [bird.sauce for bird in cook.birds] == ["apricot", "harissa", "plain"]
    sound = soundfile.info(outcome.wav)
    assert (sound.samplerate, sound.channels) == (RATE_HZ, 1)
    assert sound.duration == pytest.approx(outcome.conversation_s, abs=0.1)


def test_the_fan_is_as_loud_as_promised_and_always_the_same() -> None:
    speech = (8000 * np.sin(np.arange(RATE_HZ) / 3)).astype(np.int16)
    one, same, other = (demo.in_a_room(speech, seed) for seed in (1, 1, 2))
    assert np.array_equal(one, same)
    assert not np.array_equal(one, other)
    pause = round(demo.QUIET_S * RATE_HZ)
    noise = one[:pause].astype(np.float64)
    below_db = 20 * np.log10(np.std(speech) / np.std(noise))
    assert below_db == pytest.approx(demo.ROOM_DB, abs=1.5)


def test_without_a_voice_there_is_no_demo(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def none_found() -> None:
        raise VoiceError("no speech engine works here: install espeak-ng")

    monkeypatch.setattr(demo, "find_synth", none_found)
    with pytest.raises(VoiceError):
        demo.run_demo(print, perfect, tmp_path / "untouched")
    assert not (tmp_path / "untouched").exists()


def test_the_replay_command_can_be_pasted_from_any_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(demo.shutil, "which", lambda _: None)
    monkeypatch.setattr(demo.sys, "argv", ["/opt/our spit/.venv/bin/turnspit"])
    assert demo.replay_command(Path("/home/a b/demo")) == (
        "XDG_DATA_HOME='/home/a b/demo' '/opt/our spit/.venv/bin/turnspit' replay"
    )


@pytest.fixture(scope="module")
def script() -> tuple[Step, ...]:
    return read_script(places.shipped("demo_sessions") / demo.SCRIPT)


def test_the_script_is_three_birds_two_glazes_and_one_plain(script: tuple[Step, ...]) -> None:
    sauces = [one.command.sauce for one in script if isinstance(one.command, cmd.BirdSauce)]
    assert sauces == ["apricot", "harissa", "plain"]
    weights = [one.command for one in script if isinstance(one.command, cmd.BirdWeight)]
    assert [weight.bird for weight in weights] == [1, 2, 3]


@pytest.mark.parametrize("kind", [cmd.Correct, cmd.Undo, cmd.AskWhen, cmd.Number, cmd.FuelAdded])
def test_the_script_corrects_undoes_asks_answers_and_refuels(
    script: tuple[Step, ...], kind: type[cmd.Command]
) -> None:
    assert any(isinstance(step.command, kind) for step in script)


def test_the_script_ends_the_cook_with_every_bird_taken_off(script: tuple[Step, ...]) -> None:
    assert isinstance(script[-1].command, cmd.EndCook)
    off = [one.command.bird for one in script if isinstance(one.command, cmd.BirdsOff)]
    assert sorted(off[-3:]) == [1, 2, 3]  # type: ignore[type-var]
