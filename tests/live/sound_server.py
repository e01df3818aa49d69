"""A virtual sound card: PulseAudio null sinks on a private socket, no D-Bus, no hardware.

`cook` is where the cook speaks; with `echo` what the program says is heard
there too, as from a speaker beside the grill. The program's microphone is the
monitor of `cook`, its speaker is `said`.
"""

import os
import shutil
import subprocess
import tempfile
import time
from dataclasses import dataclass, field
from pathlib import Path

TOOLS = ("pulseaudio", "pactl", "paplay", "parec")
START_S = 8.0
WARM_S = 2.1  # a fresh null sink moves its first two seconds in one piece
ASOUNDRC = "pcm.!default { type pulse }\nctl.!default { type pulse }\n"


class NoSoundServerError(Exception):
    """No virtual sound card can be had here; the message says why."""


@dataclass
class SoundServer:
    """A running server. `environment` is what programs need to find it."""

    folder: Path
    echo: bool = True
    rate_hz: int = 48_000
    channels: int = 1
    process: subprocess.Popen[bytes] | None = field(default=None, init=False)

    @property
    def environment(self) -> dict[str, str]:
        """The process's environment with the private server in it."""
        return self._environment("pulse")

    def _environment(self, socket: str) -> dict[str, str]:
        return {
            **os.environ,
            "HOME": str(self.folder / "home"),
            "XDG_RUNTIME_DIR": str(self.folder / "run"),
            "PULSE_SERVER": f"unix:{self.folder}/run/{socket}.sock",
        }

    def start(self) -> None:
        """Start the server and wait for it. Raises NoSoundServerError.

        Programs find it only when its cards run smoothly: their socket opens last.
        """
        missing = [tool for tool in TOOLS if shutil.which(tool) is None]
        if missing:
            raise NoSoundServerError(f"not installed: {', '.join(missing)}")
        for name in ("home", "run"):
            (self.folder / name).mkdir(parents=True, exist_ok=True, mode=0o700)
        (self.folder / "home" / ".asoundrc").write_text(ASOUNDRC)
        for name in ("pulse", "control"):
            (self.folder / "run" / f"{name}.sock").unlink(missing_ok=True)
        form = f"rate={self.rate_hz} channels={self.channels}"
        loads = [
            f"module-native-protocol-unix socket={self.folder}/run/control.sock",
            f"module-null-sink sink_name=cook {form}",
            f"module-null-sink sink_name=said {form}",
        ]
        if self.echo:
            loads.append(
                "module-loopback source=said.monitor sink=cook latency_msec=20 adjust_time=0"
                " source_dont_move=true sink_dont_move=true"
            )
        self.process = subprocess.Popen(
            [
                "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1",
                "--use-pid-file=no", *(f"--load={load}" for load in loads),
            ],
            env=self.environment, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
        )  # fmt: skip
        self._wait()
        self.control("set-default-source", "cook.monitor")
        self.control("set-default-sink", "said")
        time.sleep(WARM_S)
        self.control(
            "load-module", "module-native-protocol-unix", f"socket={self.folder}/run/pulse.sock"
        )

    def _wait(self) -> None:
        end_s = time.monotonic() + START_S
        while time.monotonic() < end_s:
            if self.process is None or self.process.poll() is not None:
                raise NoSoundServerError("pulseaudio does not start here")
            if self._answers():
                return
            time.sleep(0.05)
        raise NoSoundServerError("pulseaudio does not answer here")

    def _answers(self) -> bool:
        asked = subprocess.run(
            ["pactl", "list", "short", "sinks"],
            env=self._environment("control"), capture_output=True, text=True, check=False,
            timeout=5,
        )  # fmt: skip
        return asked.returncode == 0 and "said" in asked.stdout

    def control(self, *words: str) -> None:
        """Run pactl."""
        subprocess.run(
            ["pactl", *words],
            env=self._environment("control"), check=True, capture_output=True, timeout=10,
        )  # fmt: skip

    def kill(self) -> None:
        """Kill the server as a crash would."""
        if self.process is not None:
            self.process.kill()
            self.process.wait()
            self.process = None

    def play(self, path: Path) -> subprocess.Popen[bytes]:
        """Play a file to the program's microphone."""
        return subprocess.Popen(
            ["paplay", "--latency-msec=40", "-d", "cook", str(path)], env=self.environment
        )


def new_server(*, echo: bool = True, rate_hz: int = 48_000, channels: int = 1) -> SoundServer:
    """A started server in a folder of its own, under a path short enough for a socket."""
    folder = Path(tempfile.mkdtemp(prefix="ts-"))
    server = SoundServer(folder, echo=echo, rate_hz=rate_hz, channels=channels)
    try:
        server.start()
    except BaseException:
        discard(server)
        raise
    return server


def discard(server: SoundServer) -> None:
    """Stop the server and remove its folder."""
    server.kill()
    shutil.rmtree(server.folder, ignore_errors=True)
