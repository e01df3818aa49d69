"""Speech into WAV files: one file a sentence, or one tape of the conversation."""

import re
from collections.abc import Callable
from pathlib import Path

import numpy as np

from assistant.sound.files import opened_wav
from assistant.sound.player import at_rate
from assistant.sound.samples import RATE_HZ, Sound
from assistant.voice.silent import SilentSpeaker
from assistant.voice.speech import Speaker, Speech, Tone
from assistant.voice.synth import Voice, VoiceError, find_synth
from assistant.voice.tones import tone_sound

NAME_LETTERS = 40
PAUSE_S = 0.35
FADED_S = 0.02


def file_name(number: int, words: str) -> str:
    """A numbered name that tells what is said, safe on every file system."""
    kept = re.sub(r"[^a-z0-9]+", "_", words.lower()).strip("_")[:NAME_LETTERS].strip("_")
    return f"{number:04d}_{kept or 'speech'}.wav"


class WavSpeaker:
    """A `Speaker` that writes numbered WAV files into a folder, at once and in order."""

    def __init__(
        self, voice: Voice, folder: Path, on_failure: Callable[[str], None] = lambda _: None
    ) -> None:
        folder.mkdir(parents=True, exist_ok=True)
        self._voice = voice
        self._folder = folder
        self._on_failure = on_failure
        self.written = len(list(folder.glob("[0-9][0-9][0-9][0-9]_*.wav")))

    def say(self, speech: Speech) -> None:
        """Write one file; a failure is reported, never raised: speech is not the record."""
        path = self._folder / file_name(self.written + 1, speech.text)
        try:
            sound = self._voice.sound(speech.spoken)
            with opened_wav(path, sound.rate_hz) as file:
                file.writeframes(sound.samples.astype("<i2").tobytes())
        except (VoiceError, OSError) as error:
            self._on_failure(f"{path} was not written: {error}")
            return
        self.written += 1

    def tone(self, tone: Tone) -> None:
        """Tones are not written: the files hold words."""

    def hush(self) -> None:
        """Nothing is playing."""

    def close(self) -> None:
        """Nothing is open."""


class Tape:
    """One WAV of a whole conversation: turn after turn, the idle time left out.

    Mono, 16 bits, at the recognisers' rate; written as it grows, so hours fit.
    Raises OSError when the file cannot be written.
    """

    def __init__(self, path: Path, voice: Voice) -> None:
        path.parent.mkdir(parents=True, exist_ok=True)
        self._voice = voice
        self._file = opened_wav(path, RATE_HZ)
        self.path = path
        self.duration_s = 0.0

    def add(self, sound: Sound, pause_s: float = PAUSE_S) -> None:
        """Put a sound at the end, after a pause."""
        samples = at_rate(sound, RATE_HZ)
        edge = min(len(samples) // 2, round(FADED_S * RATE_HZ))
        ramp = np.linspace(0.0, 1.0, edge) if edge else np.ones(0)
        wave = samples.astype(np.float64)
        wave[:edge] *= ramp
        wave[len(wave) - edge :] *= ramp[::-1]
        pause = np.zeros(round(pause_s * RATE_HZ), np.int16)
        self._file.writeframes(np.concatenate([pause, wave]).astype("<i2").tobytes())
        self.duration_s += pause_s + len(samples) / RATE_HZ

    def say(self, speech: Speech) -> None:
        """A `Speaker`'s side of the conversation, prompts opened by their tone."""
        if speech.urgency != "reply":
            self.tone(speech.urgency)
        self.add(self._voice.sound(speech.spoken))

    def tone(self, tone: Tone) -> None:
        """A tone, straight after what came before."""
        self.add(tone_sound(tone), pause_s=0.1)

    def hush(self) -> None:
        """Nothing is playing."""

    def close(self) -> None:
        """Finish the file."""
        self._file.close()


def speaker_into(
    folder: Path | None, on_failure: Callable[[str], None] = lambda _: None
) -> Speaker:
    """A speaker that writes into `folder`, or says nothing. Raises VoiceError, OSError."""
    if folder is None:
        return SilentSpeaker()
    return WavSpeaker(Voice(find_synth()), folder, on_failure)
