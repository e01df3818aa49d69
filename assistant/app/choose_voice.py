"""`turnspit check --voices`: the voices there are, heard one after the other, and chosen."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TextIO

import tomlkit
from tomlkit.exceptions import TOMLKitError

from assistant.app import settings
from assistant.sound.devices import DeviceError, names
from assistant.sound.player import DevicePlayer
from assistant.sound.samples import Sound
from assistant.system.files import write_whole
from assistant.voice.chosen import VoiceName, named_synth, tried
from assistant.voice.synth import WORDS_PER_MINUTE, VoiceError

SAMPLE = "Bird two, one thirty. Sauce in ten minutes."
SPEAKER_S = 4.0
NONE = "no voice is here: what is said is only printed; install espeak-ng"
HOW = 'to keep one: [voice] with engine = "{engine}" and name = "{name}" in {path}'


@contextmanager
def played() -> Iterator[Callable[[Sound], bool]]:
    """What plays a sound to its end, and says whether a speaker took it."""
    try:
        there = bool(names("output"))
    except DeviceError:
        there = False
    if not there:
        yield lambda _: False
        return
    player = DevicePlayer(lambda _: None)
    try:
        player.wait_up(SPEAKER_S)
        yield player.play
    finally:
        player.close()


def listed(voices: Sequence[VoiceName]) -> Iterator[str]:
    """Yield a line on each voice, and how to keep one."""
    if not voices:
        yield NONE
        return
    for number, one in enumerate(voices, 1):
        yield f"{number:>3}  {one.engine:<10} {one.name:<22} {one.told}"
    first = voices[0]
    yield HOW.format(engine=first.engine, name=first.name, path=settings.settings_path())


def choose(
    voices: Sequence[VoiceName],
    answers: TextIO,
    show: Callable[[str], None],
    play: Callable[[Sound], bool],
) -> VoiceName | None:
    """Let somebody hear voices by number and keep one. Returns the one kept.

    Raises SettingsError, and OSError where the settings cannot be written.
    """
    show("a number to hear it, k to keep what was heard last, Enter to leave it as it is")
    heard: VoiceName | None = None
    while (answer := answers.readline().strip().lower()) and answer:
        if answer == "k" and heard is not None:
            keep(heard)
            show(f"kept in {settings.settings_path()}")
            return heard
        if not (answer.isdecimal() and 1 <= int(answer) <= len(voices)):
            show(f"a number from 1 to {len(voices)}, k, or Enter")
            continue
        one = voices[int(answer) - 1]
        try:
            voice = tried(named_synth(one.engine, one.name))
            was_heard = play(voice(SAMPLE, WORDS_PER_MINUTE))
        except VoiceError as error:
            show(str(error))
            continue
        heard = one
        told = "that was" if was_heard else "no speaker took the sound of"
        show(f"{told} {one.engine} {one.name}")
    return None


def keep(voice: VoiceName, path: Path | None = None) -> None:
    """Write the voice into the settings, and leave everything else there as it stands.

    Raises SettingsError for settings that cannot be used as they are, and OSError.
    """
    path = path or settings.settings_path()
    settings.load(path)
    text = path.read_text(encoding="utf-8-sig") if path.exists() else ""
    try:
        document = tomlkit.parse(text)
        table = document.setdefault("voice", tomlkit.table())
        table["engine"], table["name"] = voice.engine, voice.name
    except TOMLKitError as error:
        raise settings.SettingsError(f"{path}: not TOML ({error})") from error
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    write_whole(path, tomlkit.dumps(document).encode())
