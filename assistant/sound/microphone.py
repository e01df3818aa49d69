"""The microphone: blocks from a watched child, mixed to mono at the recognisers' rate."""

import json
import queue
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from typing import cast

import numpy as np

from assistant.sound.microphone_child import STAMP
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system import wire
from assistant.system.parts import lazy
from assistant.system.watched import Link, Watched

soxr = lazy("soxr")

LATENCY_S = 0.05
KEPT_BLOCKS = 320  # about ten seconds; more can only mean that nobody listens
QUALITY = "MQ"  # flat to 7 kHz, 16 ms late; "HQ" is 28 ms late and no flatter there


@dataclass(frozen=True, slots=True)
class Block:
    """Mono samples at `RATE_HZ` and when the last of them was captured (monotonic seconds).

    `judged`: as many, by which speech is told from what is none, where that is better not
    told by `samples` themselves.
    """

    samples: Samples
    end_s: float
    judged: Samples | None = None


class Converter:
    """One stream of interleaved device samples to mono at `RATE_HZ`.

    The resampler keeps some samples back, so a block may be shorter or longer
    than its input.
    """

    def __init__(self, rate_hz: int, channels: int) -> None:
        self._channels = channels
        self._resampler = (
            None
            if rate_hz == RATE_HZ
            else soxr.ResampleStream(rate_hz, RATE_HZ, 1, dtype="int16", quality=QUALITY)
        )

    def __call__(self, raw: bytes) -> Samples:
        """16-bit little-endian interleaved samples to mono samples."""
        samples = np.frombuffer(raw, dtype="<i2").reshape(-1, self._channels)
        mono: Samples = samples[:, 0].astype(np.int16)
        if self._channels > 1:
            mono = np.round(samples.mean(axis=1)).astype(np.int16)
        if self._resampler is None:
            return mono
        return cast("Samples", self._resampler.resample_chunk(mono))


class Microphone:
    """The microphone as a bounded queue of blocks; lost and found again by itself.

    `device`: a part of its name, "" for the system's default, whose name is then
    kept. `on_link` is called from another thread whenever it is lost or returns;
    `Link.detail` of a return is JSON with "device", "rate_hz", "channels" and
    "is_wanted" (False: a stand-in for a device that is not there).
    """

    def __init__(
        self,
        on_link: Callable[[Link], None],
        *,
        device: str = "",
        latency_s: float = LATENCY_S,
    ) -> None:
        self.blocks: queue.Queue[Block] = queue.Queue(KEPT_BLOCKS)
        self.dropped = 0  # blocks nobody took
        self.overflows = 0  # times the sound system itself lost samples
        self._on_link = on_link
        self._device = device
        self._latency_s = latency_s
        self._converter = Converter(RATE_HZ, 1)
        self._child = Watched(
            "assistant.sound.microphone_child", self._arguments, self._message, self._link
        )
        self._child.start()

    @property
    def process_id(self) -> int | None:
        """Of the child that holds the device."""
        return self._child.process_id

    def close(self) -> None:
        """Let the device go."""
        self._child.close()
        self._converter = Converter(RATE_HZ, 1)  # the resampler complains when it outlives Python

    def _arguments(self) -> list[str]:
        return [self._device, str(self._latency_s)]

    def _link(self, link: Link) -> None:
        if link.up:
            opened = json.loads(link.detail)
            self._device = self._device or opened["device"]
            self._converter = Converter(opened["rate_hz"], opened["channels"])
        self._on_link(link)

    def _message(self, kind: bytes, payload: bytes) -> None:
        if kind == wire.LOST:
            self.overflows += 1
        elif kind == wire.BLOCK:
            (end_s,) = STAMP.unpack_from(payload)
            block = Block(self._converter(payload[STAMP.size :]), end_s)
            if len(block.samples) == 0:  # all still inside the resampler
                return
            try:
                self.blocks.put_nowait(block)
            except queue.Full:
                with suppress(queue.Empty):
                    self.blocks.get_nowait()
                self.dropped += 1
                with suppress(queue.Full):
                    self.blocks.put_nowait(block)
