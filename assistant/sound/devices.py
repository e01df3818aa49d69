"""Sound devices by name, as seen from inside a sound child.

PortAudio freezes its list when it starts and its numbers move, so every child
looks its device up anew and by name. This module stays free of numpy: the
children import it.
"""

import json
import os
import re
import signal
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, BinaryIO, Literal

from assistant.system import wire

Kind = Literal["input", "output"]
PLACE = re.compile(r"\s*[:,-]*\s*\(hw:\d+,\d+\)\s*$")  # the part of an ALSA name that moves
COMMON_RATES_HZ = (48_000, 44_100, 16_000)
PORTAUDIO_LINE = "PortAudio is missing: install libportaudio2 (Debian: apt install libportaudio2)"


class DeviceError(Exception):
    """No device can be opened; the message is one line with what to do."""


def stable_name(name: str) -> str:
    """A device's name without the card number, which changes when it is plugged again."""
    return PLACE.sub("", name).strip()


def load_portaudio() -> Any:
    """The sounddevice module; DeviceError when PortAudio is missing."""
    try:
        import sounddevice  # here, as it raises OSError where PortAudio is missing
    except (ImportError, OSError) as error:
        raise DeviceError(PORTAUDIO_LINE) from error
    return sounddevice


def hardware_signature() -> str:
    """What the kernel lists as sound cards; "" where it lists nothing."""
    try:
        return Path("/proc/asound/cards").read_text(encoding="utf-8")
    except OSError:
        return ""


def locked_out(folder: Path = Path("/dev/snd")) -> bool:
    """Whether there is sound hardware that this user may not open."""
    nodes = list(folder.glob("pcm*")) if folder.is_dir() else []
    return bool(nodes) and not any(os.access(node, os.R_OK | os.W_OK) for node in nodes)


def no_device_line(kind: Kind) -> str:
    """Why there is no device, and what to do."""
    thing = "microphone" if kind == "input" else "speaker"
    if locked_out():
        return f"no permission to use the {thing}: sudo usermod -aG audio $USER, then log in again"
    return f"no {thing} found: plug one in, or start the sound server"


def pick(devices: list[dict[str, Any]], default: int, kind: Kind, wanted: str) -> dict[str, Any]:
    """The device whose name holds `wanted`, else the default one.

    `devices` and `default` are PortAudio's. The answer gets `is_wanted`.
    Raises DeviceError when nothing can be used.
    """
    usable = [d for d in devices if d[f"max_{kind}_channels"] > 0]
    if not usable:
        raise DeviceError(no_device_line(kind))
    exact = [d for d in usable if stable_name(d["name"]).lower() == wanted.lower()]
    part = [d for d in usable if wanted and wanted.lower() in d["name"].lower()]
    for device in exact or part:
        return {**device, "is_wanted": True}
    fallback = [d for d in usable if d["index"] == default] or usable
    return {**fallback[0], "is_wanted": not wanted}


def formats(device: dict[str, Any], kind: Kind) -> list[tuple[int, int]]:
    """Rates (hertz) and channel counts worth trying, the device's own first."""
    own = round(device["default_samplerate"])
    rates = [own, *(rate for rate in COMMON_RATES_HZ if rate != own)]
    most = device[f"max_{kind}_channels"]
    counts = [count for count in (1, 2, most) if count <= most]
    return [(rate, count) for rate in rates for count in dict.fromkeys(counts)]


@dataclass(frozen=True, slots=True)
class Opened:
    """A running PortAudio stream (raw, 16-bit) and what it runs on."""

    stream: Any
    device: str
    rate_hz: int
    channels: int
    is_wanted: bool
    cards: str

    def greeting(self) -> bytes:
        """The child's first message."""
        said = {
            "device": self.device,
            "rate_hz": self.rate_hz,
            "channels": self.channels,
            "is_wanted": self.is_wanted,
        }
        return json.dumps(said).encode()

    def look_around(self) -> None:
        """Raise DeviceError when this is a stand-in and the hardware has changed."""
        if not self.is_wanted and hardware_signature() != self.cards:
            raise DeviceError("other sound hardware was plugged in")


def open_stream(kind: Kind, wanted: str, block_s: float, latency_s: float) -> Opened:
    """Open and start the chosen device at its own rate, in the first format it takes.

    Raises DeviceError when there is none.
    """
    sounddevice = load_portaudio()
    cards = hardware_signature()
    devices = [dict(device) for device in sounddevice.query_devices()]
    device = pick(devices, sounddevice.default.device[0 if kind == "input" else 1], kind, wanted)
    make = sounddevice.RawInputStream if kind == "input" else sounddevice.RawOutputStream
    failure = "it has no usable format"
    for rate_hz, channels in formats(device, kind):
        try:
            stream = make(
                samplerate=rate_hz, channels=channels, dtype="int16", device=device["index"],
                blocksize=round(rate_hz * block_s), latency=latency_s,
            )  # fmt: skip
            stream.start()
        except sounddevice.PortAudioError as error:
            failure = str(error)
        else:
            name = stable_name(device["name"])
            return Opened(stream, name, rate_hz, channels, device["is_wanted"], cards)
    raise DeviceError(f"{stable_name(device['name'])} does not open: {failure}")


def run(work: Callable[[BinaryIO], None], out: BinaryIO) -> None:
    """A sound child's whole life: `work` until the program or the device is gone.

    Why the device is gone is the last message. Ctrl-C is the program's to handle.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        work(out)
    except BrokenPipeError:
        os._exit(0)
    except Exception as error:  # noqa: BLE001 - whatever it is, the parent shows it and retries
        wire.send(out, wire.ERROR, " ".join(str(error).split()).encode())
        os._exit(1)


def names(kind: Kind) -> list[str]:
    """Names of all usable devices. Raises DeviceError without PortAudio."""
    sounddevice = load_portaudio()
    usable = [d for d in sounddevice.query_devices() if d[f"max_{kind}_channels"] > 0]
    return list(dict.fromkeys(stable_name(device["name"]) for device in usable))
