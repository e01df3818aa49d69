"""Whether the address word was just said, known before the sentence is understood."""

from assistant.sound.samples import Samples
from assistant.system import wire
from assistant.system.watched import Patience, Watched

FOREVER_S = 1e9  # it speaks up only when the word falls; its death is noticed all the same


class Spotter:
    """Feed it an utterance as it is spoken. A dead or slow child only means "not heard"."""

    def __init__(self, word: str, phones: str = "") -> None:
        self._utterance = 0
        self._found = -1  # the utterance the word was last heard in
        self._child = Watched(
            "assistant.ears.spotter_child",
            lambda: [word, *phones.split()],
            self._message,
            lambda _link: None,
            Patience(FOREVER_S, FOREVER_S),
        )
        self._child.start()

    def begin(self) -> None:
        """Another utterance begins."""
        self._utterance += 1
        self._child.send(wire.HUSH, self._utterance.to_bytes(4, "little"))

    def feed(self, samples: Samples) -> None:
        """The next samples of the utterance, 16 kHz."""
        self._child.send(wire.AUDIO, samples.tobytes())

    @property
    def found(self) -> bool:
        """Whether the word was in what was fed since `begin`."""
        return self._found == self._utterance

    @property
    def process_id(self) -> int | None:
        """Of the child."""
        return self._child.process_id

    def close(self) -> None:
        """End the child."""
        self._child.close()

    def _message(self, kind: bytes, payload: bytes) -> None:
        if kind == wire.MARK:
            self._found = int.from_bytes(payload, "little")
