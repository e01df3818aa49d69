"""How live sound is set up for an evening."""

from dataclasses import dataclass, field
from pathlib import Path

from assistant.live.utterance import Pauses


@dataclass(frozen=True, slots=True)
class LiveSettings:
    """`microphone`, `speaker`: a part of the device's name, "" for the default.

    `full_duplex`: listen while speaking, for a headset. `push_only`: deaf unless
    a key or the pedal is pressed. `pedal`: an evdev device file. `keep_audio`:
    the folder that keeps what was said.
    """

    microphone: str = ""
    speaker: str = ""
    full_duplex: bool = False
    push_only: bool = False
    pedal: Path | None = None
    keep_audio: Path | None = None
    input_latency_s: float = 0.05
    output_latency_s: float = 0.06
    pauses: Pauses = field(default_factory=Pauses)


def for_small_machines(settings: LiveSettings) -> LiveSettings:
    """The same for a single-board computer: longer buffers, and only one look at a pause
    that is likely to be the end."""
    return LiveSettings(
        settings.microphone, settings.speaker, settings.full_duplex, settings.push_only,
        settings.pedal, settings.keep_audio, input_latency_s=0.1, output_latency_s=0.12,
        pauses=Pauses(look_s=0.29, whole_s=0.29, open_s=0.35),
    )  # fmt: skip
