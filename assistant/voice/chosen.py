"""Which voice speaks: the one the cook chose, else the first that works here."""

import json
import shutil
import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np

from assistant.sound.samples import Sound
from assistant.system.child_python import code_command
from assistant.voice import synth
from assistant.voice.synth import ENGINE_TIMEOUT_S, WORDS_PER_MINUTE, Synth, VoiceError

Engine = Literal["espeak-ng", "system"]
ENGINES: tuple[Engine, ...] = ("espeak-ng", "system")
FASTEST_WPM = 320
WOMAN = "+f3"  # one of espeak-ng's own variants of any voice


@dataclass(frozen=True, slots=True)
class VoiceName:
    """A voice that is there; `told` is how its engine describes it."""

    engine: Engine
    name: str
    told: str


@dataclass(frozen=True, slots=True)
class Chosen:
    """What the settings say of the voice. `engine` None: what is there; `name` None: the
    engine's usual. `words_per_minute` is the normal pace, `volume` 0 to 1."""

    engine: Engine | None = None
    name: str | None = None
    words_per_minute: int = WORDS_PER_MINUTE
    volume: float = 1.0


USUAL = Chosen()


def chosen_synth(chosen: Chosen, notice: Callable[[str], None] = lambda _: None) -> Synth:
    """Return the voice of the settings, tried out; where that one does not speak, `notice`
    is told and the first that works is taken. Raises VoiceError where none does."""
    base: Synth | None = None
    if chosen.engine is not None or chosen.name is not None:
        try:
            base = tried(named_synth(chosen.engine or default_engine(), chosen.name))
        except VoiceError as error:
            notice(f"the chosen voice does not speak, another does: {error}")
    if base is None:
        base = synth.find_synth()
    if chosen.words_per_minute == WORDS_PER_MINUTE and chosen.volume == 1.0:
        return base
    return partial(_paced, base, chosen)


def default_engine() -> Engine:
    """Return espeak-ng where it is, else the system's own."""
    return "espeak-ng" if shutil.which("espeak-ng") else "system"


def tried(voice: Synth) -> Synth:
    """Return the voice. Raises VoiceError where it makes no sound."""
    if not len(voice("ready", WORDS_PER_MINUTE).samples):
        raise VoiceError(f"it makes no sound: {synth.INSTALL_LINE}")
    return voice


def named_synth(engine: Engine, name: str | None) -> Synth:
    """Return that voice of that engine, not tried; `name` None: its usual one."""
    speak: Callable[..., Sound] = synth.espeak if engine == "espeak-ng" else synth.system_voice
    return partial(speak, voice=name) if name is not None else speak


def _paced(base: Synth, chosen: Chosen, text: str, words_per_minute: int) -> Sound:
    """Speak at the chosen pace and volume; quicker replies are quicker in proportion."""
    pace = words_per_minute * chosen.words_per_minute / WORDS_PER_MINUTE
    sound = base(text, min(FASTEST_WPM, round(pace)))
    softer = np.round(sound.samples * chosen.volume).astype(np.int16)
    return Sound(softer, sound.rate_hz)


def known_voices() -> tuple[VoiceName, ...]:
    """Return the English voices of both engines; one that cannot be asked has none."""
    return (*_espeak_voices(), *_system_voices())


def _espeak_voices() -> tuple[VoiceName, ...]:
    """By language, without those that need another program (MBROLA), each also higher."""
    found: dict[str, str] = {}
    for line in _asked(["espeak-ng", "--voices=en"]).splitlines()[1:]:
        parts = line.split()
        if len(parts) >= 5 and not parts[4].startswith("mb/"):
            found.setdefault(parts[1], parts[3].replace("_", " "))
    return tuple(
        VoiceName("espeak-ng", f"{name}{variant}", f"{told}{', higher' if variant else ''}")
        for name, told in found.items()
        for variant in ("", WOMAN)
    )


LIST_CHILD = """
import json, pyttsx3
for one in pyttsx3.init().getProperty("voices"):
    tongues = " ".join(t.decode(errors="replace") if isinstance(t, bytes) else str(t)
                       for t in (one.languages or []))
    print(json.dumps([str(one.id), str(one.name), tongues]))
"""


def _system_voices() -> tuple[VoiceName, ...]:
    found = []
    for line in _asked(*code_command(LIST_CHILD)).splitlines():
        try:
            name, told, tongues = json.loads(line)
        except (ValueError, TypeError):  # what a driver prints by the way
            continue
        if "en" in f"{tongues} {name} {told}".lower():
            found.append(VoiceName("system", name, told))
    return tuple(found)


def _asked(command: list[str], environment: dict[str, str] | None = None) -> str:
    try:
        done = subprocess.run(
            command, stdin=subprocess.DEVNULL, capture_output=True, timeout=ENGINE_TIMEOUT_S,
            check=False, env=environment,
        )  # fmt: skip
    except (OSError, subprocess.TimeoutExpired):
        return ""
    return done.stdout.decode(errors="replace")
