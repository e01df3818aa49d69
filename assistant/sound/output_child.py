"""Child process: one speaker, kept running, fed by messages on standard input.

Run as `python -m assistant.sound.output_child NAME LATENCY_S`; an empty NAME
means the default device. The stream never stops: silence keeps sleepy outputs
(HDMI, USB) from clipping the first syllable, and its steady progress is the
sign of life the parent watches. A MARK is answered when everything sent before
it has left the device's buffer. What really went out is sent back, for whoever has
to take it out of the microphone again.
"""

import os
import struct
import sys
import threading
import time
from array import array
from collections import deque
from typing import BinaryIO

from assistant.sound import devices
from assistant.system import wire

BLOCK_S = 0.01
PULSE_EVERY_BLOCKS = 3
LOOK_EVERY_BLOCKS = 100
ECHO_BLOCKS = 6  # of silence sent back after a sound, to move its end through the resampler
SAMPLE_BYTES = 2
PULSE = struct.Struct("<dd")
PLACE = struct.Struct("<d")
FACTOR = struct.Struct("<f")
STEP = 2.0  # a block: how fast the voice is turned down and up


class Reel:
    """Samples and marks in the order they came; taken block by block."""

    def __init__(self) -> None:
        self._items: deque[bytes | int] = deque()
        self._lock = threading.Lock()

    def put(self, item: bytes | int) -> None:
        """Add samples (bytes, mono 16-bit) or a mark (int)."""
        with self._lock:
            self._items.append(item)

    def drop(self) -> None:
        """Forget the samples; marks stay, so that nobody waits for ever."""
        with self._lock:
            self._items = deque(item for item in self._items if isinstance(item, int))

    def take(self, size: int) -> tuple[bytes, list[int]]:
        """At most `size` bytes, and the marks passed on the way."""
        taken = bytearray()
        marks: list[int] = []
        with self._lock:
            while self._items:
                item = self._items[0]
                if isinstance(item, int):
                    marks.append(item)
                    self._items.popleft()
                elif len(taken) == size:
                    break
                else:
                    room = size - len(taken)
                    taken += item[:room]
                    self._items.popleft()
                    if len(item) > room:
                        self._items.appendleft(item[room:])
        return bytes(taken), marks


class Volume:
    """Turned down and up in steps too small to click."""

    def __init__(self) -> None:
        self.wanted = 1.0
        self._now = 1.0

    def __call__(self, samples: bytes) -> bytes:
        """The next block at the volume of the moment."""
        self._now = min(self._now * STEP, max(self._now / STEP, self.wanted))
        if self._now == 1.0 or not samples:
            return samples
        return array("h", (int(one * self._now) for one in array("h", samples))).tobytes()


def _follow(feed: BinaryIO, reel: Reel, volume: Volume) -> None:
    while (message := wire.receive(feed)) is not None:
        kind, payload = message
        if kind == wire.AUDIO:
            reel.put(payload)
        elif kind == wire.MARK:
            reel.put(int.from_bytes(payload, "little"))
        elif kind == wire.HUSH:
            reel.drop()
        elif kind == wire.DUCK:
            volume.wanted = FACTOR.unpack(payload)[0]
    os._exit(0)  # the program is gone; a driver may hang on a polite end


def spread(mono: bytes, channels: int) -> bytes:
    """The same samples on every channel."""
    if channels == 1:
        return mono
    pairs = (mono[at : at + SAMPLE_BYTES] for at in range(0, len(mono), SAMPLE_BYTES))
    return b"".join(pair * channels for pair in pairs)


def play(wanted: str, latency_s: float, feed: BinaryIO, out: BinaryIO) -> None:
    """Play what comes until the device or the program goes away."""
    opened = devices.open_stream("output", wanted, BLOCK_S, latency_s)
    reel, volume = Reel(), Volume()
    threading.Thread(target=_follow, args=(feed, reel, volume), daemon=True).start()
    wire.send(out, wire.HELLO, opened.greeting())
    frames = round(opened.rate_hz * BLOCK_S)
    silence = bytes(frames * SAMPLE_BYTES)
    latency_s = float(opened.stream.latency)
    held_back = round(latency_s / BLOCK_S) + 1  # blocks still in the buffer
    echoed = ECHO_BLOCKS
    waiting: deque[tuple[int, int]] = deque()
    for number in range(sys.maxsize):
        taken, marks = reel.take(len(silence))
        block = volume(taken) + silence[len(taken) :]
        opened.stream.write(spread(block, opened.channels))
        echoed = 0 if taken else echoed + 1
        if echoed < ECHO_BLOCKS:
            wire.send(out, wire.PLAYED, PLACE.pack(number * BLOCK_S + latency_s) + block)
        waiting.extend((number + held_back, mark) for mark in marks)
        while waiting and waiting[0][0] <= number:
            wire.send(out, wire.MARK, waiting.popleft()[1].to_bytes(4, "little"))
        if number % PULSE_EVERY_BLOCKS == PULSE_EVERY_BLOCKS - 1:
            wire.send(out, wire.PULSE, PULSE.pack((number + 1) * BLOCK_S, time.monotonic()))
        if number % LOOK_EVERY_BLOCKS == 0:
            opened.look_around()


def main() -> None:
    """Run the child."""
    feed = sys.stdin.buffer
    devices.run(lambda out: play(sys.argv[1], float(sys.argv[2]), feed, out), sys.stdout.buffer)


if __name__ == "__main__":
    main()
