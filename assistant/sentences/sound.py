"""What is said about the sound itself: microphone and speaker lost and found."""

from assistant.sentences.spell import Sentence, sentence

MICROPHONE_LOST = sentence("I cannot hear you. Look at the microphone.")
SPEAKER_LOST = sentence("I have no speaker: my words are only here.")
SOUND_LOST = sentence(
    "Some sound was lost: this computer is too busy. Say again what I did not read back."
)
BACK = {
    "microphone": sentence("I hear you again."),
    "speaker": sentence("I can speak again."),
}


def other_microphone(name: str) -> Sentence:
    """The usual microphone is gone; another one is listened to."""
    return sentence(f"I listen to another microphone: {name}.")


def listening(address: str, *, by_key: bool, while_speaking: bool) -> Sentence:
    """Said once at the beginning, when it can hear and be heard. The address word comes first:
    by the end of this it may have learned to hear through its own voice."""
    if by_key:
        return sentence("I am listening when you press the key.")
    also = "also while I speak" if while_speaking else "but not while I speak"
    return sentence(f"Begin with {address}. I am listening, {also}.")


def fixed_phrases() -> tuple[str, ...]:
    """Spoken forms worth making before they are needed."""
    return tuple(one.spoken for one in (MICROPHONE_LOST, *BACK.values()))
