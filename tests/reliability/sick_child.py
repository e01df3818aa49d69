"""A sound child that falls ill in the way its argument names, after a few good messages."""

import os
import sys
import time

from assistant.system import wire

GOOD = 5


def main() -> None:
    """Send good messages, then be ill."""
    illness = sys.argv[1]
    out = sys.stdout.buffer
    wire.send(out, wire.HELLO, b"\xff\xfe {" if illness == "greets badly" else b"{}")
    for _ in range(GOOD):
        wire.send(out, wire.PULSE, b"12345678")
    match illness:
        case "dies":
            os.abort()
        case "hangs":
            time.sleep(60)
        case "floods":
            while True:
                wire.send(out, wire.BLOCK, bytes(8192))
        case "babbles":
            out.write(bytes(range(256)) * 100)
            out.flush()
            time.sleep(60)
        case "promises too much":
            out.write(wire.HEADER.pack(wire.BLOCK, 0xFFFFFFFF))
            out.flush()
            time.sleep(60)
        case "greets badly" | "complains":
            wire.send(out, wire.ERROR, b"\xff no device")
        case "sends nonsense":
            wire.send(out, b"?", b"")
            time.sleep(60)


if __name__ == "__main__":
    main()
