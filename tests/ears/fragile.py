"""An object for the child-process tests: it can be told to die, hang or refuse."""

import os
import time


class Fragile:
    """Counts its calls, so that a restart can be seen."""

    def __init__(self, start: int) -> None:
        if start < 0:
            raise ValueError("it cannot start below nothing")
        self._count = start
        self._parent = os.getppid()

    def count(self) -> int:
        self._count += 1
        return self._count

    def die(self) -> None:
        os.abort()

    def hang(self) -> None:
        time.sleep(60)

    def outlive(self) -> str:
        """Answer only when nobody is left to hear it."""
        while os.getppid() == self._parent:
            time.sleep(0.01)
        return "too late"

    def refuse(self) -> None:
        raise ValueError("not this one")

    def chatter(self) -> str:
        os.write(1, b"native libraries print\n")
        return "understood"
