"""Child process: one speaker, kept running, fed by messages on standard input.

Run as `python -m assistant.sound.output_child NAME LATENCY_S`; an empty NAME
means the default device. The stream never stops: silence keeps sleepy outputs
(HDMI, USB) from clipping the first syllable, and its steady progress is the
sign of life the parent watches. A MARK is answered when everything sent before
it has left the device's buffer.
"""

import os
import struct
import sys
import threading
from collections import deque
from typing import BinaryIO

from assistant.sound import devices
from assistant.system import wire

BLOCK_S = 0.01
PULSE_EVERY_BLOCKS = 10
LOOK_EVERY_BLOCKS = 100
SAMPLE_BYTES = 2
PULSE = struct.Struct("<d")


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


def _follow(feed: BinaryIO, reel: Reel) -> None:
    while (message := wire.receive(feed)) is not None:
        kind, payload = message
        if kind == wire.AUDIO:
            reel.put(payload)
        elif kind == wire.MARK:
            reel.put(int.from_bytes(payload, "little"))
        elif kind == wire.HUSH:
            reel.drop()
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
    reel = Reel()
    threading.Thread(target=_follow, args=(feed, reel), daemon=True).start()
    wire.send(out, wire.HELLO, opened.greeting())
    frames = round(opened.rate_hz * BLOCK_S)
    silence = bytes(frames * SAMPLE_BYTES)
    held_back = round(float(opened.stream.latency) / BLOCK_S) + 1  # blocks still in the buffer
    waiting: deque[tuple[int, int]] = deque()
    for number in range(sys.maxsize):
        taken, marks = reel.take(len(silence))
        opened.stream.write(spread(taken + silence[len(taken) :], opened.channels))
        waiting.extend((number + held_back, mark) for mark in marks)
        while waiting and waiting[0][0] <= number:
            wire.send(out, wire.MARK, waiting.popleft()[1].to_bytes(4, "little"))
        if number % PULSE_EVERY_BLOCKS == PULSE_EVERY_BLOCKS - 1:
            wire.send(out, wire.PULSE, PULSE.pack((number + 1) * BLOCK_S))
        if number % LOOK_EVERY_BLOCKS == 0:
            opened.look_around()


def main() -> None:
    """Run the child."""
    devices.leave_interrupts_to_parent()
    out = sys.stdout.buffer
    try:
        play(sys.argv[1], float(sys.argv[2]), sys.stdin.buffer, out)
    except BrokenPipeError:
        os._exit(0)
    except Exception as error:  # noqa: BLE001 - whatever it is, the parent shows it and retries
        wire.send(out, wire.ERROR, " ".join(str(error).split()).encode())
        os._exit(1)


if __name__ == "__main__":
    main()
