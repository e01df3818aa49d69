"""Where sound goes: the speaker in its child process, or nowhere."""

import json
import math
import threading
from collections.abc import Callable
from typing import Protocol

import numpy as np

from assistant.sound.converter import Converter
from assistant.sound.output_child import BLOCK_S, FACTOR, PLACE, PULSE
from assistant.sound.played import Played
from assistant.sound.samples import RATE_HZ, Samples, Sound
from assistant.sound.timeline import Timeline
from assistant.system import wire
from assistant.system.parts import lazy
from assistant.system.watched import Link, Watched

soxr = lazy("soxr")

LATENCY_S = 0.06
PIECE_S = 0.2
SPARE_S = 1.5  # beyond a sound's own length, before it counts as lost
NORMAL_RATE_HZ = 48_000
DUCK_DB = -18.0
RAN_DRY_S = 0.3  # a busy machine lets the device run dry: all after that sounds later


class Player(Protocol):
    """Plays one sound at a time for the speaker's thread."""

    def play(self, sound: Sound, gain_db: float = 0.0) -> bool:
        """Play to the end; False when it was not, or not wholly, heard."""
        ...

    def hush(self) -> None:
        """Cut the sound that is playing (from any thread)."""
        ...

    def duck(self, *, down: bool) -> None:
        """Turn all sound down by `DUCK_DB`, or up again (from any thread)."""
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

    def duck(self, *, down: bool) -> None:
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


class Report:
    """What the child says that it played, put into `Played` at its time."""

    def __init__(self, played: Played) -> None:
        self._played = played
        self._convert: Converter | None = None
        self.opened(NORMAL_RATE_HZ)

    def opened(self, rate_hz: int) -> None:
        """A device was opened: its stream begins at nought."""
        self._rate_hz = rate_hz
        self._line = Timeline(RAN_DRY_S)
        self._convert = None
        self._begin_s = 0.0  # where the unbroken stretch of sound began in the stream
        self._ended_s = -1.0
        self._put = 0  # samples of it so far

    def pulse(self, payload: bytes) -> None:
        """The stream has moved on."""
        self._line.stamp(*PULSE.unpack(payload))

    def sounded(self, payload: bytes) -> None:
        """A block of it held sound."""
        (place_s,) = PLACE.unpack_from(payload)
        if self._convert is None or abs(place_s - self._ended_s) > BLOCK_S / 2:
            self._convert, self._begin_s, self._put = Converter(self._rate_hz, 1), place_s, 0
        samples = self._convert(payload[PLACE.size :])
        self._ended_s = place_s + BLOCK_S
        begin_s = self._line.at(self._begin_s + self._put / RATE_HZ)
        goes_on = self._put > 0
        self._put += len(samples)
        if begin_s is not None:
            self._played.put(begin_s, samples, goes_on=goes_on)


class DevicePlayer:
    """The speaker device, watched; play() returns when the last sample was really heard.

    `played` is kept up with what went out and when.
    """

    def __init__(
        self,
        on_link: Callable[[Link], None],
        *,
        device: str = "",
        latency_s: float = LATENCY_S,
        played: Played | None = None,
    ) -> None:
        self._report = Report(played) if played is not None else None
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

    def duck(self, *, down: bool) -> None:
        """Turn all sound down, or up again."""
        self._child.send(wire.DUCK, FACTOR.pack(10 ** (DUCK_DB / 20) if down else 1.0))

    def close(self) -> None:
        """Let the device go."""
        self._child.close()
        if self._report is not None:
            self._report.opened(self._rate_hz)

    def _arguments(self) -> list[str]:
        return [self._device, str(self._latency_s)]

    def _message(self, kind: bytes, payload: bytes) -> None:
        if kind == wire.MARK:
            with self._changed:
                self._heard_mark = int.from_bytes(payload, "little")
                self._changed.notify_all()
        elif self._report is not None and kind == wire.PULSE:
            self._report.pulse(payload)
        elif self._report is not None and kind == wire.PLAYED:
            self._report.sounded(payload)

    def _link(self, link: Link) -> None:
        if link.up:
            opened = json.loads(link.detail)
            self._rate_hz = opened["rate_hz"]
            if self._report is not None:
                self._report.opened(self._rate_hz)
            self._device = self._device or opened["device"]  # kept by name from now on
            self._up.set()
        else:
            self._up.clear()
        with self._changed:
            self._changed.notify_all()
        self._on_link(link)
