"""A recording in the microphone's place, fed at the pace it was spoken."""

import queue
import threading
import time
from collections.abc import Callable

from assistant.live.utterance import CHUNK
from assistant.sound.microphone import Block
from assistant.sound.samples import RATE_HZ, Samples

AFTER_S = 2.0  # silence after the end, so that the last words find theirs
AHEAD_BLOCKS = 320


def silence_after(samples: Samples) -> Samples:
    """The recording with enough silence behind it to end its last utterance."""
    padded = samples.copy()
    padded.resize(len(samples) + round(AFTER_S * RATE_HZ), refcheck=False)
    return padded


class RecordedMicrophone:
    """Blocks of a recording, in real time; `on_end` is called after the last one."""

    def __init__(self, samples: Samples, on_end: Callable[[], None]) -> None:
        self.blocks: queue.Queue[Block] = queue.Queue(AHEAD_BLOCKS)
        self.lost = 0  # the feeder waits
        self._samples = silence_after(samples)
        self._on_end = on_end
        self._closing = threading.Event()
        self._thread = threading.Thread(target=self._feed, name="recording", daemon=True)
        self._thread.start()

    def close(self) -> None:
        """Stop feeding."""
        self._closing.set()

    def _feed(self) -> None:
        began_s = time.monotonic()
        for start in range(0, len(self._samples), CHUNK):
            end_s = began_s + (start + CHUNK) / RATE_HZ
            if self._closing.wait(max(0.0, end_s - time.monotonic())):
                return
            self.blocks.put(Block(self._samples[start : start + CHUNK], end_s))
        self._on_end()
