"""How live sound is set up for an evening."""

from dataclasses import dataclass, field
from pathlib import Path

from assistant.grammar.grammar import ADDRESS
from assistant.live.utterance import Pauses
from assistant.system.places import data_folder


@dataclass(frozen=True, slots=True)
class LiveSettings:
    """`microphone`, `speaker`: a part of the device's name, "" for the default.

    `full_duplex`: listen while speaking, for a headset. `push_only`: deaf unless
    a key or the pedal is pressed. `pedal`: an evdev device file. `keep_audio`:
    the folder that keeps what was said. `address` opens a sentence.
    """

    microphone: str = ""
    speaker: str = ""
    full_duplex: bool = False
    push_only: bool = False
    pedal: Path | None = None
    keep_audio: Path | None = None
    input_latency_s: float = 0.05
    output_latency_s: float = 0.03
    address: str = ADDRESS
    pauses: Pauses = field(default_factory=Pauses)


SMALL_PAUSES = Pauses(look_s=0.29, notice_s=0.29, whole_s=0.29, open_s=0.35)


def sound_settings(
    *,
    small: bool,
    microphone: str,
    speaker: str,
    headset: bool,
    push_to_talk: bool,
    pedal: Path | None,
    keep_audio: bool,
    address: str,
) -> LiveSettings:
    """Settings from what was asked for. `small`, for a single-board computer: longer
    buffers, and a look only at a pause that is likely to be the end."""
    return LiveSettings(
        microphone=microphone,
        speaker=speaker,
        full_duplex=headset,
        push_only=push_to_talk,
        pedal=pedal,
        keep_audio=data_folder() / "audio" if keep_audio else None,
        input_latency_s=0.1 if small else 0.05,
        output_latency_s=0.12 if small else 0.03,
        address=address,
        pauses=SMALL_PAUSES if small else Pauses(),
    )
