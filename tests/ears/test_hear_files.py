"""Recordings to lines of the command-line contract, through the recogniser."""

import json
from collections.abc import Iterator
from pathlib import Path

import numpy as np
import pytest

from assistant.ears.ears import Ears
from assistant.ears.hear_files import hear_files, hear_recording
from assistant.grammar.grammar import ADDRESS, Names
from assistant.grammar.network import GrammarError
from assistant.sound.files import write_sound
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = [needs_voice, pytest.mark.slow]
TONIGHT = Names(2, ("apricot", "harissa"))
KEYS = {"file", "words", "command", "slots", "confidence", "rejected", "audio_s", "compute_s"}


@pytest.fixture(scope="module")
def ears() -> Iterator[Ears]:
    made = Ears(TONIGHT)
    yield made
    made.close()


def test_a_recording_is_one_line_with_its_command(tmp_path: Path) -> None:
    path = tmp_path / "reading.wav"
    write_sound(path, say("bird two reads one thirty"))
    (line,) = hear_files([path], names=TONIGHT)
    assert set(line) >= KEYS
    assert (line["command"], line["rejected"]) == ("bird_reading", None)
    assert (line["slots"]["bird"], line["slots"]["temperature"]) == (2, 130)
    assert json.loads(json.dumps(line, allow_nan=False)) == line


def test_files_that_cannot_be_heard_do_not_stop_the_others(tmp_path: Path) -> None:
    good, text, silent = (tmp_path / name for name in ("good.wav", "text.wav", "silent.wav"))
    write_sound(good, say("scratch that"))
    text.write_text("not a recording")
    write_sound(silent, np.zeros(16000, np.int16))
    lines = list(hear_files([text, silent, good], names=TONIGHT))
    assert "not a sound file" in lines[0]["error"]
    assert lines[1]["rejected"] == "nobody speaks in it"
    assert lines[2]["command"] == "undo"


def test_any_grammar_gives_words_only(tmp_path: Path) -> None:
    path = tmp_path / "order.wav"
    write_sound(path, say("give me a large latte with milk"))
    grammar = Path("tests/benchmarks/grammars/drinks.jsgf").read_text()
    (line,) = hear_files([path], grammar=grammar)
    assert (line["words"], line["command"]) == ("give me a large latte with milk", None)


def test_the_address_word_opens_and_its_lack_refuses(ears: Ears) -> None:
    addressed = hear_recording(ears, say(f"{ADDRESS} lid off"), address_required=True)
    assert addressed.command is not None
    assert (addressed.command.NAME, addressed.outcome != "refuse") == ("lid_off", True)
    bare = hear_recording(ears, say("how long for bird two"), address_required=True)
    assert (bare.outcome, bare.reason) == ("refuse", "the address word was missing")


def test_a_new_sauce_can_be_heard_from_the_next_utterance_on(ears: Ears) -> None:
    ears.set_names(Names(2, ("chimichurri",)))
    heard = hear_recording(ears, say("bird one gets chimichurri"))
    ears.set_names(TONIGHT)
    assert heard.words == "bird one gets chimichurri"


def test_a_recogniser_that_dies_costs_nothing_that_is_said_later(ears: Ears) -> None:
    ears._child.close_after_failure()
    heard = hear_recording(ears, say("scratch that"))
    assert heard.words == "scratch that"


def test_a_grammar_that_cannot_be_used_is_said_before_any_file() -> None:
    with pytest.raises(GrammarError, match="cannot be read"):
        hear_files([Path("none.wav")], grammar="nonsense")
