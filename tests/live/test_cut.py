"""A long recording cut into utterances: where, and what each is heard as."""

from pathlib import Path

import numpy as np
import pytest

from assistant.ears.heard import Heard
from assistant.grammar.grammar import Names
from assistant.live.cut import hear_cut, pieces
from assistant.sound.files import write_sound
from assistant.sound.samples import RATE_HZ, Samples
from tests.ears.voice_at_hand import needs_voice, say

pytestmark = needs_voice


def _evening(*said: str, between_s: float) -> Samples:
    """Sentences one after the other in one room, which is never quite silent."""
    gap = np.zeros(int(between_s * RATE_HZ), np.int16)
    whole = np.concatenate([part for words in said for part in (say(words), gap)])
    hiss = np.random.default_rng(4).normal(0, 20, len(whole))
    return (whole + hiss).astype(np.int16)


def test_each_sentence_is_one_piece_that_holds_its_sound() -> None:
    recording = _evening("lid off", "bird two reads one thirty", between_s=1.0)
    lengths: list[float] = []

    def hear(samples: Samples, follows: bool) -> Heard:
        lengths.append(len(samples) / RATE_HZ)
        return Heard("", None, 0.0, "refuse")

    first, second = pieces(recording, hear, lambda _heard: "whole")
    assert 0.0 <= first.start_s < first.end_s < second.start_s < second.end_s
    assert second.end_s <= len(recording) / RATE_HZ
    middle = int((first.end_s + second.start_s) / 2 * RATE_HZ)
    assert np.abs(recording[middle - 800 : middle + 800]).max() < 1000  # cut where nobody spoke
    assert second.heard.audio_s == pytest.approx(second.end_s - second.start_s)


def test_what_may_go_on_is_waited_for_and_what_is_whole_is_not() -> None:
    most = RATE_HZ * 3 // 8  # of the half second of room around each
    first, then = say("bird two")[:-most], say("reads one thirty")[most:]
    recording = np.concatenate([first, then])
    heard = Heard("", None, 0.0, "refuse")
    at_once = list(pieces(recording, lambda samples, follows: heard, lambda _h: "whole"))
    patient = list(pieces(recording, lambda samples, follows: heard, lambda _h: "partial"))
    assert (len(at_once), len(patient)) == (2, 1)  # a quarter of a second of silence


def test_what_follows_in_one_breath_is_told_from_what_comes_later() -> None:
    """The pauses are those between the words: the voice adds half a second around each."""
    lead = RATE_HZ * 3 // 8
    parts = [say(words)[lead:-lead] for words in ("lid off", "bird two", "lid on")]
    gaps = [np.zeros(round(s * RATE_HZ), np.int16) for s in (0.2, 1.0, 0.0)]
    recording = np.concatenate([one for pair in zip(parts, gaps, strict=True) for one in pair])
    followed: dict[int, bool] = {}

    def hear(samples: Samples, follows: bool) -> Heard:
        followed[len(followed)] = follows
        return Heard("", None, 1.0, "accept")

    assert len(list(pieces(recording, hear, lambda _heard: "whole"))) == 3
    assert list(followed.values()) == [False, True, False]


def test_silence_has_no_pieces() -> None:
    assert not list(pieces(np.zeros(RATE_HZ, np.int16), pytest.fail, pytest.fail))  # type: ignore[arg-type]


@pytest.mark.slow
def test_commands_in_a_long_recording_are_one_line_each_and_talk_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "evening.wav"
    said = ("turnspit lid off", "my cousin lives by the lake", "turnspit bird two reads one thirty")
    write_sound(path, _evening(*said, between_s=1.0))
    lines = list(hear_cut([path], Names(2), address_required=True))
    facts = [fact["command"] for line in lines for fact in line["facts"]]
    assert facts == ["lid_off", "bird_reading"]
    assert all(line["start_s"] < line["end_s"] for line in lines)
    assert all(line["rejected"] for line in lines if not line["facts"])
