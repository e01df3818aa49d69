"""Child process: one microphone, its blocks sent to standard output.

Run as `python -m assistant.sound.microphone_child NAME LATENCY_S`; an empty NAME
means the default device. Blocks are 10 ms at the device's own rate, mixed by
nobody: channels stay interleaved. Each carries the time its last sample arrived.
Blocks as long as the voice-activity model's chunks would make each chunk wait for the
block after it, since the converter holds the last millisecond back.
"""

import os
import struct
import sys
import threading
import time
from typing import BinaryIO

from assistant.sound import devices
from assistant.system import wire

BLOCK_S = 0.01
LOOK_EVERY_BLOCKS = 100
STAMP = struct.Struct("<d")
COUNT = struct.Struct("<I")


def listen(wanted: str, latency_s: float, out: BinaryIO) -> None:
    """Send blocks until the device or the program goes away."""
    opened = devices.open_stream("input", wanted, BLOCK_S, latency_s)
    wire.send(out, wire.HELLO, opened.greeting())
    frames = round(opened.rate_hz * BLOCK_S)
    for number in range(sys.maxsize):
        block, overflowed = opened.stream.read(frames)
        wire.send(out, wire.BLOCK, STAMP.pack(time.monotonic()) + bytes(block))
        if overflowed:
            wire.send(out, wire.LOST, COUNT.pack(1))
        if number % LOOK_EVERY_BLOCKS == 0:
            opened.look_around()


def exit_with_parent(feed: BinaryIO) -> None:
    """Leave at once, also out of a hanging driver, when the program's pipe closes."""

    def wait() -> None:
        while feed.read(1):
            pass
        os._exit(0)

    threading.Thread(target=wait, daemon=True).start()


def main() -> None:
    """Run the child."""
    exit_with_parent(sys.stdin.buffer)
    devices.run(lambda out: listen(sys.argv[1], float(sys.argv[2]), out), sys.stdout.buffer)


if __name__ == "__main__":
    main()
