"""Framed messages between the program and its children.

A message is one byte of kind, four bytes of length and the payload. Standard
library only: the children must start in a blink and stay small.
"""

import struct
from typing import BinaryIO

HEADER = struct.Struct("<cI")
LONGEST_BYTES = 1 << 24

AUDIO = b"A"  # 16-bit samples, from a microphone or for a speaker
BLOCK = b"B"  # a microphone block: its capture time (double, CLOCK_MONOTONIC), then samples
DUCK = b"D"  # float32: the factor by which the speaker turns all sound down from now on
ERROR = b"E"  # one line of text: why the child cannot go on
HELLO = b"H"  # JSON: the device that was opened
HUSH = b"Q"  # drop all that is waiting to be played
LOST = b"O"  # uint32: blocks the sound system says it lost
MARK = b"M"  # uint32: tell when everything sent before has been played
PLAYED = b"R"  # double: place in the stream, in seconds, where it sounds; then the samples
PULSE = b"P"  # two doubles: seconds of sound moved so far, and when (CLOCK_MONOTONIC)
VALUE = b"V"  # a pickled value: a call or its answer


def send(stream: BinaryIO, kind: bytes, payload: bytes = b"") -> None:
    """Write one message and flush it; OSError when the other side is gone."""
    stream.write(HEADER.pack(kind, len(payload)) + payload)
    stream.flush()


def receive(stream: BinaryIO) -> tuple[bytes, bytes] | None:
    """Read one message; None at the end of the stream or when it is torn."""
    header = stream.read(HEADER.size)
    if len(header) < HEADER.size:
        return None
    kind, length = HEADER.unpack(header)
    if length > LONGEST_BYTES:
        return None
    payload = stream.read(length)
    return (kind, payload) if len(payload) == length else None
