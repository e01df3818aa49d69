"""The microphone: blocks from a watched child, mixed to mono at the recognisers' rate."""

import json
import queue
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass

from assistant.sound.converter import Converter
from assistant.sound.microphone_child import STAMP
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system import wire
from assistant.system.watched import Link, Watched

LATENCY_S = 0.05
KEPT_BLOCKS = 1000  # ten seconds; more can only mean that nobody listens


@dataclass(frozen=True, slots=True)
class Block:
    """Mono samples at `RATE_HZ` and when the last of them was captured (monotonic seconds).

    `judged`: as many, by which speech is told from what is none, where that is better not
    told by `samples` themselves.
    """

    samples: Samples
    end_s: float
    judged: Samples | None = None


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
        self._lost = 0
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

    @property
    def lost(self) -> int:
        """How often sound was lost, here or in the sound system, because nobody took it."""
        return self._lost + self._child.dropped

    def close(self) -> None:
        """Let the device go."""
        self._child.close()

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
            self._lost += 1
        elif kind == wire.BLOCK:
            (end_s,) = STAMP.unpack_from(payload)
            block = Block(self._converter(payload[STAMP.size :]), end_s)
            if len(block.samples) == 0:  # all still inside the converter
                return
            try:
                self.blocks.put_nowait(block)
            except queue.Full:
                with suppress(queue.Empty):
                    self.blocks.get_nowait()
                self._lost += 1
                with suppress(queue.Full):
                    self.blocks.put_nowait(block)
