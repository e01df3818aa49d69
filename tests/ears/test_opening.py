"""The address word heard by itself: no grammar can bend talk into it."""

import numpy as np
import pytest

from assistant.ears.ears import UNADDRESSED, Ears
from assistant.ears.prepared import for_cook
from assistant.ears.weights import ADDRESSED
from assistant.ears.whisper.files import ModelMissing, find_model, read_vocabulary
from assistant.ears.whisper.model import Memory, Whisper
from assistant.ears.whisper.opening import spellings
from assistant.ears.whisper.recogniser import LONG, WhisperRecogniser
from assistant.grammar.grammar import ADDRESS, Names
from assistant.live.outlook import is_meant
from tests.ears.voice_at_hand import say

try:
    VOCABULARY = find_model() / "vocabulary.txt"
except ModelMissing:  # pragma: no cover
    pytest.skip("Whisper is not installed", allow_module_level=True)


def test_a_compound_may_be_written_as_two_words() -> None:
    """The listener writes what it hears; "turn spit" is the same sound."""
    vocabulary = read_vocabulary(VOCABULARY)
    written = {vocabulary.decode(tokens) for tokens in spellings(vocabulary, "turnspit")}
    assert {"turnspit", "turn spit"} <= written
    assert len(spellings(vocabulary, "copper kettle")) == 1


@pytest.mark.parametrize("word", [ADDRESS, "copper kettle"])
def test_only_what_opens_with_the_word_is_taken(word: str) -> None:
    """Whatever the word, a command after it is taken; the same command alone, or after
    another word, is not for us and is met with silence."""
    ears = Ears(Names(birds=2), address=word)
    try:
        opened = ears.hear(say(f"{word} what's next"), address_required=True)
        assert (opened.outcome, opened.words) == ("accept", f"{word} what's next")
        for talk in ("what's next", "jennifer what's next", "turn it down please"):
            evidence = ears.listen(say(talk), only_addressed=True)
            assert evidence.opening is not None
            assert evidence.opening < ADDRESSED
            assert not evidence.sentences  # it was over after the look at the word
            heard = ears.decide(evidence, address_required=True)
            assert heard.reason == UNADDRESSED
            assert not is_meant(heard, address=word)
    finally:
        ears.close()


def test_a_long_sound_known_to_open_with_the_word_is_worked_through_once(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """While it was still being said its beginning was looked at; that look is not done again,
    and what is heard is the same."""
    recogniser = WhisperRecogniser(for_cook(Names(birds=2), "F", ADDRESS))
    sound = say(f"{ADDRESS} bird one weighs five pounds eight ounces")
    assert len(sound) > LONG
    encode, encoded = Whisper.encode, list[int]()

    def counted(self: Whisper, mel: np.ndarray) -> Memory:
        encoded.append(len(mel))
        return encode(self, mel)

    monkeypatch.setattr(Whisper, "encode", counted)
    first = recogniser.recognise(sound, True)
    assert len(encoded) == 2
    assert recogniser.recognise(sound, True, True) == first
    assert len(encoded) == 3
    other = recogniser.recognise(say("what's next, when is it going to be done, then"), True, True)
    assert other.opening is not None and other.opening < ADDRESSED
    assert not other.sentences  # no other word passes for having been let through once
