"""The one line that installs what Python's packages cannot bring, by system."""

import sys
from typing import Literal

What = Literal["voice", "portaudio", "zone", "clock"]
_LINES: dict[str, dict[What, str]] = {
    "darwin": {
        "voice": "brew install espeak-ng",
        "portaudio": "brew install portaudio",
        "zone": "set it in System Settings, Date and Time",
        "clock": "set it in System Settings, Date and Time",
    },
    "win32": {
        "voice": "winget install eSpeak-NG.eSpeak-NG",
        "portaudio": "py -m pip install --force-reinstall sounddevice",
        "zone": "set it in Settings, Time and language",
        "clock": "set it in Settings, Time and language",
    },
}
_LINUX: dict[What, str] = {
    "voice": "sudo apt-get install -y espeak-ng",
    "portaudio": "sudo apt-get install -y libportaudio2",
    "zone": "sudo timedatectl set-timezone Europe/Lisbon   # or the place you are in",
    "clock": "sudo timedatectl set-ntp true",
}


def mend_line(what: What, platform: str = sys.platform) -> str:
    """Return the line for this system (`platform` as sys.platform names it)."""
    return _LINES.get(platform, _LINUX)[what]
