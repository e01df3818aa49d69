"""What is said about the sound itself: microphone and speaker lost and found."""

from assistant.sentences.spell import Sentence, sentence

MICROPHONE_LOST = sentence("I cannot hear you. Look at the microphone.")
SPEAKER_LOST = sentence("I have no speaker: my words are only here.")
BACK = {
    "microphone": sentence("I hear you again."),
    "speaker": sentence("I can speak again."),
}


def other_microphone(name: str) -> Sentence:
    """The usual microphone is gone; another one is listened to."""
    return sentence(f"I listen to another microphone: {name}.")


def fixed_phrases() -> tuple[str, ...]:
    """Spoken forms worth making before they are needed."""
    return tuple(one.spoken for one in (MICROPHONE_LOST, *BACK.values()))
