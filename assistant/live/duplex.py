"""Whether, and through what, the program listens while it speaks."""

import re
from collections.abc import Callable

from assistant.ears.heard import Heard
from assistant.live.options import LiveSettings
from assistant.sound.canceller import EchoFree, both
from assistant.sound.microphone import Block
from assistant.sound.played import Played
from assistant.system.parts import PartMissing

WORD = re.compile(r"[a-z']+")


class Duplex:
    """The microphone's blocks free of the program's own voice, where that can be had.

    With a headset nothing has to be taken out. Without a canceller one line says so, and
    the program is deaf while it speaks.
    """

    def __init__(self, settings: LiveSettings, notice: Callable[[str], None]) -> None:
        self.played = Played()
        self._says = ""
        self._headset = settings.full_duplex
        self._echo_free: EchoFree | None = None
        if not self._headset:
            try:
                self._echo_free = EchoFree(both(), self.played)
            except PartMissing as error:
                notice(str(error))

    @property
    def may_hear_through(self) -> bool:
        """Whether it can listen while it speaks, at least once it knows the room."""
        return self._headset or self._echo_free is not None

    def hears_through(self) -> bool:
        """Whether its own voice may sound in what is listened to."""
        return self._headset or (self._echo_free is not None and self._echo_free.is_ready)

    def clean(self, block: Block) -> Block:
        """The block as it may be listened to."""
        return block if self._echo_free is None else self._echo_free(block)

    def says(self, spoken: str) -> None:
        """What the program begins to say now."""
        self._says = _plain(spoken)

    def is_own(self, heard: Heard) -> bool:
        """Whether what was heard over its own voice is what that voice was saying: where the
        sound system stumbles, some of it may come through."""
        words = _plain(heard.words)
        return bool(words.strip()) and words in self._says

    def forget(self) -> None:
        """A device was lost: what was learned of the room was learned with it."""
        if self._echo_free is not None:
            self._echo_free.forget()


def _plain(text: str) -> str:
    """The words alone, each with a space on either side."""
    return f" {' '.join(WORD.findall(text.lower()))} "
