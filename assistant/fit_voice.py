"""`turnspit fit-voice`: a dozen phrases read by the cook, and what is learned from them."""

from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np

from assistant.check_sound import open_briefly
from assistant.ears import voice_fit
from assistant.ears.heard import Samples
from assistant.ears.microphone_child import BLOCK_S, STAMP
from assistant.ears.sound_file import read_sound, to_samples
from assistant.ears.speech_end import spoken_span
from assistant.ears.voice_fit import PHRASES, UnfitError, VoiceFit

LONGEST_READ_S = 4.0


def from_files(paths: Iterable[Path]) -> VoiceFit:
    """The fitting from recordings of the phrases in their order, one each. Raises
    UnfitError, or SoundError for a file that cannot be read."""
    files = list(paths)
    if len(files) != len(PHRASES):
        raise UnfitError(f"{len(files)} recordings: give {len(PHRASES)}, a phrase each, in order")
    return _fitted([read_sound(path) for path in files])


def from_microphone(say: Callable[[str], None]) -> VoiceFit:
    """The fitting from the microphone; `say` shows the person a line. Raises UnfitError
    where there is no microphone or the reading does not fit."""
    say(f"Read each of {len(PHRASES)} lines aloud as it comes, from where you will stand.")
    return _fitted([_recorded(phrase, say) for phrase in PHRASES])


def _recorded(phrase: str, say: Callable[[str], None]) -> Samples:
    def show(come: int) -> None:
        if come == 1:
            say(f'  "{phrase}"')

    wanted = 1 + round(LONGEST_READ_S / BLOCK_S)
    opened = open_briefly("assistant.ears.microphone_child", wanted, show)
    if opened.greeting is None or not opened.blocks:
        raise UnfitError(f"no microphone to read into: {opened.error}")
    raw = np.frombuffer(b"".join(block[STAMP.size :] for block in opened.blocks[1:]), np.int16)
    waves = raw.reshape(-1, int(str(opened.greeting["channels"]))).astype(np.float32) / 32768
    return to_samples(waves.mean(axis=1), int(str(opened.greeting["rate_hz"])))


def _fitted(sounds: list[Samples]) -> VoiceFit:
    spoken = [sound[spoken_span(sound)] for sound in sounds]
    return voice_fit.fit(list(zip(spoken, PHRASES, strict=True)))


def told(fitting: VoiceFit, path: Path) -> str:
    """One line for the cook."""
    if fitting.warp == 1.0:
        return f"Your voice needs no fitting ({fitting.phrases} phrases read); nothing is bent."
    way = "up" if fitting.warp > 1.0 else "down"
    return (
        f"Fitted from {fitting.phrases} phrases: your voice lies {way} by a factor of "
        f"{fitting.warp:.2f}. Kept in {path}; to remove it: turnspit fit-voice --forget"
    )
