"""Whether, and through what, the program listens while it speaks."""

from collections.abc import Callable

from assistant.live.options import LiveSettings
from assistant.sound.canceller import EchoFree, both
from assistant.sound.microphone import Block
from assistant.sound.played import Played
from assistant.system.parts import PartMissing


class Duplex:
    """The microphone's blocks free of the program's own voice, where that can be had.

    With a headset nothing has to be taken out. Without a canceller one line says so, and
    the program is deaf while it speaks.
    """

    def __init__(self, settings: LiveSettings, notice: Callable[[str], None]) -> None:
        self.played = Played()
        self._headset = settings.full_duplex
        self._echo_free: EchoFree | None = None
        if not self._headset:
            try:
                self._echo_free = EchoFree(both(), self.played)
            except PartMissing as error:
                notice(str(error))

    def hears_through(self) -> bool:
        """Whether its own voice may sound in what is listened to."""
        return self._headset or (self._echo_free is not None and self._echo_free.is_ready)

    def clean(self, block: Block) -> Block:
        """The block as it may be listened to."""
        return block if self._echo_free is None else self._echo_free(block)

    def forget(self) -> None:
        """A device was lost: what was learned of the room was learned with it."""
        if self._echo_free is not None:
            self._echo_free.forget()
