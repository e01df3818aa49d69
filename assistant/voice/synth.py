"""Words to samples: espeak-ng as a child process, pyttsx3 where it is missing.

Text reaches the engines by standard input, never through a shell or as an
argument, so nothing in it can be taken for an option.
"""

import shutil
import struct
import subprocess
import tempfile
import threading
from collections import OrderedDict
from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np

from assistant.sound.samples import Sound
from assistant.system.child_python import code_command
from assistant.system.parts import PartMissing, lazy

soundfile = lazy("soundfile")

WORDS_PER_MINUTE = 165
ENGINE_TIMEOUT_S = 10.0
SILENT_BELOW = 150  # of 32767; espeak-ng's own silence is exactly 0
KEPT_BEFORE_S = 0.01
KEPT_AFTER_S = 0.06
CACHE_SOUNDS = 256
WAV_HEADER_BYTES = 44
INSTALL_LINE = "install espeak-ng (Debian: apt install espeak-ng; macOS: brew install espeak-ng)"


class VoiceError(Exception):
    """No speech could be made; the message is one line with what to do."""


Synth = Callable[[str, int], Sound]
"""Text and words per minute to sound; VoiceError when it cannot."""


def trimmed(sound: Sound) -> Sound:
    """Without the silence an engine leaves before and after the words."""
    loud = np.flatnonzero(np.abs(sound.samples.astype(np.int32)) > SILENT_BELOW)
    if loud.size == 0:
        return Sound(sound.samples[:0], sound.rate_hz)
    first = max(0, int(loud[0]) - round(KEPT_BEFORE_S * sound.rate_hz))
    last = int(loud[-1]) + round(KEPT_AFTER_S * sound.rate_hz)
    return Sound(sound.samples[first:last], sound.rate_hz)


def plain(text: str) -> str:
    """Text without what espeak-ng would read as phoneme names or controls."""
    kept = text.replace("[[", " ").replace("]]", " ")
    return " ".join("".join(c if c.isprintable() else " " for c in kept).split())


def espeak(text: str, words_per_minute: int = WORDS_PER_MINUTE, *, voice: str = "en-us") -> Sound:
    """Speech by espeak-ng. Raises VoiceError when it is missing, fails or hangs."""
    command = [
        "espeak-ng", "-v", voice, "-s", str(words_per_minute), "-b", "1", "--stdin", "--stdout",
    ]  # fmt: skip
    try:
        done = subprocess.run(
            command, input=plain(text).encode(), capture_output=True, timeout=ENGINE_TIMEOUT_S,
            check=False,
        )  # fmt: skip
    except FileNotFoundError as error:
        raise VoiceError(f"espeak-ng is not installed: {INSTALL_LINE}") from error
    except (OSError, subprocess.TimeoutExpired) as error:
        raise VoiceError(f"espeak-ng did not answer: {error}") from error
    if done.returncode or len(done.stdout) < WAV_HEADER_BYTES or done.stdout[:4] != b"RIFF":
        said = done.stderr.decode(errors="replace").strip().splitlines()
        raise VoiceError(f"espeak-ng failed: {said[0] if said else f'status {done.returncode}'}")
    # The sizes in a streamed header are placeholders, so only the rate is read from it.
    (rate_hz,) = struct.unpack_from("<I", done.stdout, 24)
    body = done.stdout[WAV_HEADER_BYTES:]
    samples = np.frombuffer(body[: len(body) // 2 * 2], dtype="<i2").astype(np.int16)
    return trimmed(Sound(samples, rate_hz))


# One engine, one file, one process: a second file or a later say() on the same
# pyttsx3 engine overwrites the first, and a hanging driver can only be killed.
PYTTSX3_CHILD = """
import sys, pyttsx3
engine = pyttsx3.init()
engine.setProperty("rate", int(sys.argv[2]))
if sys.argv[3]:
    engine.setProperty("voice", sys.argv[3])
engine.save_to_file(sys.stdin.read(), sys.argv[1])
engine.runAndWait()
"""


def system_voice(text: str, words_per_minute: int = WORDS_PER_MINUTE, *, voice: str = "") -> Sound:
    """Speech by the system's own voice through pyttsx3, in a child with a timeout.

    `voice`: its id there; "" is the usual one. Raises VoiceError.
    """
    with tempfile.TemporaryDirectory(prefix="turnspit-") as folder:
        path = Path(folder) / "speech.wav"
        rest = [str(path), str(words_per_minute), voice]
        command, environment = code_command(PYTTSX3_CHILD, rest)
        try:
            done = subprocess.run(
                command, input=plain(text).encode(), capture_output=True,
                timeout=ENGINE_TIMEOUT_S, check=False, cwd=folder,
                env=environment,
            )  # fmt: skip
        except (OSError, subprocess.TimeoutExpired) as error:
            raise VoiceError(f"the system's voice did not answer: {INSTALL_LINE}") from error
        if done.returncode or not path.exists():
            said = done.stderr.decode(errors="replace").strip().splitlines()
            why = f" ({said[-1]})" if said else ""
            raise VoiceError(f"no speech engine works here: {INSTALL_LINE}{why}")
        try:
            samples, rate_hz = soundfile.read(path, dtype="int16", always_2d=True)
        except PartMissing as error:
            raise VoiceError(str(error)) from error
        except soundfile.LibsndfileError as error:
            raise VoiceError(f"the system's voice wrote no sound: {INSTALL_LINE}") from error
    return trimmed(Sound(np.ascontiguousarray(samples[:, 0]), rate_hz))


def find_synth() -> Synth:
    """The speech engine of this machine, tried out; VoiceError with the fix if none works."""
    synth: Synth = espeak if shutil.which("espeak-ng") else system_voice
    if not len(synth("ready", WORDS_PER_MINUTE).samples):
        raise VoiceError(f"the speech engine makes no sound: {INSTALL_LINE}")
    return synth


LETTERS_A_SECOND = 15.0  # of espeak-ng's English at the normal pace
REPLY_S = 3.0  # a reply longer than this is spoken faster, within reason
QUICKER_WPM = (165, 190, 215)


def reply_pace(text: str) -> int:
    """Words per minute for a reply: the slowest pace at which it lasts about three
    seconds, else the quickest. Few paces, so that sounds can be kept."""
    wanted = WORDS_PER_MINUTE * len(text) / LETTERS_A_SECOND / REPLY_S
    return next((pace for pace in QUICKER_WPM if pace >= wanted), QUICKER_WPM[-1])


class Voice:
    """A speech engine with a memory: what was said once is not made again."""

    def __init__(self, synth: Synth) -> None:
        self._synth = synth
        self._made: OrderedDict[tuple[str, int], Sound] = OrderedDict()
        self._lock = threading.Lock()

    def sound(self, text: str, words_per_minute: int = WORDS_PER_MINUTE) -> Sound:
        """Speech for `text`. Raises VoiceError when the engine cannot speak."""
        key = (text, words_per_minute)
        with self._lock:
            if key in self._made:
                self._made.move_to_end(key)
                return self._made[key]
        sound = self._synth(text, words_per_minute)
        with self._lock:
            self._made[key] = sound
            while len(self._made) > CACHE_SOUNDS:
                self._made.popitem(last=False)
        return sound

    def premake(self, texts: Iterable[str]) -> None:
        """Make fixed phrases ahead, so that they start without delay."""
        for text in texts:
            self.sound(text)
