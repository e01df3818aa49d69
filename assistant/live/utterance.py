"""Where an utterance begins, pauses and ends. No clock, no thread: chunks are time.

The end is aware of meaning. At a short pause the sound so far is handed out to be
understood; what comes back says how long a pause is still worth waiting for. A
whole reading that nothing can follow is closed at once; half a sentence is given
time.
"""

from collections import deque
from dataclasses import dataclass
from typing import Literal

import numpy as np

from assistant.sound.samples import RATE_HZ, Samples

CHUNK = 512  # samples; what the voice-activity model takes
CHUNK_S = CHUNK / RATE_HZ
SPEECH_ABOVE = 0.5  # voice-activity probability that begins speech
SILENCE_BELOW = 0.45
BEGIN_CHUNKS = 2
BEFORE_S = 0.35  # kept from before the beginning: soft first sounds
SAME_BREATH_S = 0.8
"""Words that begin so soon after a command that was taken belong to it: no address word."""
TAIL_S = 0.25  # silence kept after the last sound
BREAK_CHUNKS = 2  # of silence: what comes after may be another's first word

Outlook = Literal["unknown", "whole", "open", "partial", "hopeless"]
"""What the sound so far is worth: not yet known; a whole command that nothing can
follow; a whole command that more words could extend; the beginning of one; none."""

Change = Literal["began", "paused", "resumed", "full"]


@dataclass(frozen=True, slots=True)
class Pauses:
    """Seconds of silence: before the sound is first looked at, before a tone tells the
    cook that the end was noticed, and, by what was said, before the utterance is over.
    `longest_s` ends any utterance.

    Of 250 spoken drink orders the longest pause inside was 0.16 s or more in 12 %,
    0.26 s in 4 %, 0.35 s in 2 %, 0.42 s in 0.4 %. A tone after 0.12 s sounds inside 14 % of them.
    """

    look_s: float = 0.06
    notice_s: float = 0.12
    whole_s: float = 0.16
    open_s: float = 0.25
    hopeless_s: float = 0.45
    partial_s: float = 0.9
    unknown_s: float = 0.9
    longest_s: float = 12.0

    def after(self, outlook: Outlook) -> float:
        """The pause that ends an utterance of this worth."""
        return {
            "unknown": self.unknown_s,
            "whole": self.whole_s,
            "open": self.open_s,
            "partial": self.partial_s,
            "hopeless": self.hopeless_s,
        }[outlook]


class Utterance:
    """Collects one utterance at a time from chunks of `CHUNK` samples.

    `version` changes whenever speech is added, so that an outlook found for an
    earlier version is known to be stale.
    """

    def __init__(self, pauses: Pauses) -> None:
        self._pauses = pauses
        self._before: deque[Samples] = deque(maxlen=round(BEFORE_S / CHUNK_S))
        self._chunks: list[Samples] = []
        self._loud_in_row = 0
        self._quiet_chunks = 0
        self._looked = False
        self._outlook: Outlook = "unknown"
        self._resumed: list[int] = []
        self.version = 0

    @property
    def is_speech(self) -> bool:
        """Whether an utterance has begun and is not over."""
        return bool(self._chunks)

    @property
    def pause_s(self) -> float:
        """How long the speaker has been silent."""
        return self._quiet_chunks * CHUNK_S

    @property
    def length_s(self) -> float:
        """How long the utterance is so far."""
        return len(self._chunks) * CHUNK_S

    def add(self, chunk: Samples, probability: float) -> Change | None:
        """Take the next chunk and its voice-activity probability."""
        if not self._chunks:
            return self._before_speech(chunk, probability)
        self._chunks.append(chunk)
        change: Change | None = None
        if probability >= SPEECH_ABOVE or (self._quiet_chunks == 0 and probability > SILENCE_BELOW):
            if self._looked:
                change = "resumed"
            if self._quiet_chunks >= BREAK_CHUNKS:
                self._resumed.append(len(self._chunks) - 1)
            self._quiet_chunks = 0
            self._looked = False
            self._outlook = "unknown"
            self.version += 1
        else:
            self._quiet_chunks += 1
            if not self._looked and self.pause_s >= self._pauses.look_s:
                self._looked = True
                change = "paused"
        if len(self._chunks) * CHUNK_S >= self._pauses.longest_s:
            return "full"
        return change

    def _before_speech(self, chunk: Samples, probability: float) -> Change | None:
        self._before.append(chunk)
        self._loud_in_row = self._loud_in_row + 1 if probability >= SPEECH_ABOVE else 0
        if self._loud_in_row < BEGIN_CHUNKS:
            return None
        self._chunks = list(self._before)
        self._before.clear()
        self.version += 1
        return "began"

    def judge(self, version: int, outlook: Outlook) -> None:
        """Say what the sound of that version is worth."""
        if version == self.version:
            self._outlook = outlook

    @property
    def is_over(self) -> bool:
        """Whether the pause is long enough for what has been said."""
        return self.is_speech and self.pause_s >= self._pauses.after(self._outlook)

    def samples(self) -> Samples:
        """The sound so far, with at most `TAIL_S` of the silence at its end."""
        spare = max(0, self._quiet_chunks - round(TAIL_S / CHUNK_S))
        kept = self._chunks[: len(self._chunks) - spare]
        return np.concatenate(kept) if kept else np.zeros(0, np.int16)

    @property
    def resumed(self) -> tuple[int, ...]:
        """The chunks of it at which speech went on after a pause."""
        return tuple(self._resumed)

    def clear(self) -> None:
        """Forget the utterance and what came before it."""
        self._before.clear()
        self._chunks = []
        self._resumed = []
        self._loud_in_row = 0
        self._quiet_chunks = 0
        self._looked = False
        self._outlook = "unknown"
        self.version += 1
