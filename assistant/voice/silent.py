"""The speaker of a session that only prints."""

from assistant.voice.speech import Speech, Tone


class SilentSpeaker:
    """A `Speaker` that says nothing: every sentence is printed anyway."""

    def say(self, speech: Speech) -> None:
        """Nothing is spoken."""

    def tone(self, tone: Tone) -> None:
        """Nothing sounds."""

    def hush(self) -> None:
        """Nothing is playing."""

    def close(self) -> None:
        """Nothing is open."""
