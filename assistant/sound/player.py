"""Where sound goes: the speaker in its child process, or nowhere."""

import json
import math
import threading
from collections.abc import Callable
from typing import Protocol

import numpy as np

from assistant.sound.samples import Samples, Sound
from assistant.system import wire
from assistant.system.parts import lazy
from assistant.system.watched import Link, Watched

soxr = lazy("soxr")

LATENCY_S = 0.06
PIECE_S = 0.2
SPARE_S = 1.5  # beyond a sound's own length, before it counts as lost
NORMAL_RATE_HZ = 48_000


class Player(Protocol):
    """Plays one sound at a time for the speaker's thread."""

    def play(self, sound: Sound, gain_db: float = 0.0) -> bool:
        """Play to the end; False when it was not, or not wholly, heard."""
        ...

    def hush(self) -> None:
        """Cut the sound that is playing (from any thread)."""
        ...

    def close(self) -> None:
        """Let the device go."""
        ...


class SilentPlayer:
    """For a machine without a speaker: nothing is heard, nothing is waited for."""

    def play(self, sound: Sound, gain_db: float = 0.0) -> bool:
        """Nothing is heard."""
        del sound, gain_db
        return False

    def hush(self) -> None:
        """Nothing is playing."""

    def close(self) -> None:
        """Nothing is open."""


def at_rate(sound: Sound, rate_hz: int, gain_db: float = 0.0) -> Samples:
    """The sound's samples at another rate, louder or softer by `gain_db`, clipped at full scale."""
    wave = sound.samples.astype(np.float32)
    if sound.rate_hz != rate_hz and len(wave):
        wave = soxr.resample(wave, sound.rate_hz, rate_hz)
    wave *= math.pow(10.0, gain_db / 20.0)
    return np.clip(np.round(wave), -32768, 32767).astype(np.int16)


class DevicePlayer:
    """The speaker device, watched; play() returns when the last sample was really heard."""

    def __init__(
        self,
        on_link: Callable[[Link], None],
        *,
        device: str = "",
        latency_s: float = LATENCY_S,
    ) -> None:
        self._on_link = on_link
        self._device = device
        self._latency_s = latency_s
        self._rate_hz = NORMAL_RATE_HZ
        self._up = threading.Event()
        self._mark = 0
        self._heard_mark = 0
        self._cut = False
        self._changed = threading.Condition()
        self._child = Watched(
            "assistant.sound.output_child", self._arguments, self._message, self._link
        )
        self._child.start()

    @property
    def is_up(self) -> bool:
        """Whether the device takes sound now."""
        return self._up.is_set()

    @property
    def process_id(self) -> int | None:
        """Of the child that holds the device."""
        return self._child.process_id

    def wait_up(self, timeout_s: float) -> bool:
        """Wait until the device takes sound."""
        return self._up.wait(timeout_s)

    def play(self, sound: Sound, gain_db: float = 0.0) -> bool:
        """Play to the end; False when cut short or when the device is or goes away."""
        if not self.is_up:
            return False
        with self._changed:
            self._mark += 1
            self._cut = False
            mark = self._mark
        samples = at_rate(sound, self._rate_hz, gain_db)
        piece = round(PIECE_S * self._rate_hz)
        for start in range(0, len(samples), piece):
            if self._cut:
                # A piece may have been on its way when hush() emptied the child's queue.
                self._child.send(wire.HUSH)
                return False
            if not self._child.send(wire.AUDIO, samples[start : start + piece].tobytes()):
                return False
        if not self._child.send(wire.MARK, mark.to_bytes(4, "little")):
            return False
        with self._changed:
            self._changed.wait_for(
                lambda: self._heard_mark >= mark or not self.is_up,
                timeout=sound.duration_s + SPARE_S,
            )
            return self._heard_mark >= mark and not self._cut

    def hush(self) -> None:
        """Cut the sound that is playing."""
        self._cut = True
        self._child.send(wire.HUSH)

    def close(self) -> None:
        """Let the device go."""
        self._child.close()

    def _arguments(self) -> list[str]:
        return [self._device, str(self._latency_s)]

    def _message(self, kind: bytes, payload: bytes) -> None:
        if kind == wire.MARK:
            with self._changed:
                self._heard_mark = int.from_bytes(payload, "little")
                self._changed.notify_all()

    def _link(self, link: Link) -> None:
        if link.up:
            opened = json.loads(link.detail)
            self._rate_hz = opened["rate_hz"]
            self._device = self._device or opened["device"]  # kept by name from now on
            self._up.set()
        else:
            self._up.clear()
        with self._changed:
            self._changed.notify_all()
        self._on_link(link)
