"""Messages between the program and its sound children."""

import io

import pytest

from assistant.system import wire


def test_a_message_comes_back_and_a_torn_one_does_not() -> None:
    stream = io.BytesIO()
    wire.send(stream, wire.AUDIO, b"one")
    whole = stream.getvalue()
    assert wire.receive(io.BytesIO(whole)) == (wire.AUDIO, b"one")
    assert wire.receive(io.BytesIO(whole[:-1])) is None
    assert wire.receive(io.BytesIO(whole[:3])) is None


class Endless(io.BytesIO):
    """Gives a header, and then as much as it is asked for: it counts how much that was."""

    asked = 0

    def read(self, size: int | None = -1, /) -> bytes:
        if self.tell() == 0 and size == wire.HEADER.size:
            return super().read(size)
        self.asked = size or 0
        return b""


@pytest.mark.parametrize("length", [wire.LONGEST_BYTES + 1, 2**32 - 1])
def test_no_child_makes_the_program_read_without_bound(length: int) -> None:
    stream = Endless(wire.HEADER.pack(wire.AUDIO, length))
    assert wire.receive(stream) is None
    assert stream.asked == 0
