"""What the live cook is put between: where sound comes from, what hears it, what is shown."""

from typing import Protocol

from assistant.ears.heard import Heard
from assistant.live.utterance import Outlook
from assistant.sound.microphone import Block
from assistant.sound.microphone_level import Level
from assistant.sound.samples import Samples


class Surface(Protocol):
    """Where the live cook shows what is not the session's: faults, lines, the level."""

    def notice(self, text: str | None) -> None:
        """A fault that must stay in sight; None when it is gone."""
        ...

    def line(self, text: str) -> None:
        """One line of the evening."""
        ...

    def level(self, level: Level) -> None:
        """The microphone's running level, twice a second, from another thread."""
        ...


class Source(Protocol):
    """Blocks of sound: the microphone, or a recording in its place."""

    @property
    def blocks(self) -> "BlockQueue":
        """Where the blocks arrive."""
        ...

    @property
    def lost(self) -> int:
        """How often some sound was lost on the way, because the machine was too busy."""
        ...

    def close(self) -> None:
        """No more blocks."""
        ...


class BlockQueue(Protocol):
    """The reading end of a queue of blocks."""

    def get(self, block: bool = True, timeout: float | None = None) -> Block:  # noqa: FBT001, FBT002 -- queue.Queue's own form
        """The next block; queue.Empty when none comes in time."""
        ...


class Hearing(Protocol):
    """The ears, as the live cook uses them."""

    def hear(self, samples: Samples, free: bool) -> Heard:  # noqa: FBT001 -- the listener's form
        """What was said; `free`: the address word is not needed."""
        ...

    def opens(self, samples: Samples) -> bool:
        """Whether what is still being spoken opens with the address word."""
        ...

    def outlook(self, heard: Heard) -> Outlook:
        """Whether more may follow what was heard."""
        ...

    def is_meant(self, heard: Heard, free: bool) -> bool:  # noqa: FBT001 -- as for hear
        """Whether a refused utterance was meant for the program at all."""
        ...
