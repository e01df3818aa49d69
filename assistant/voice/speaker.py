"""The one thread that speaks: what is most urgent first, never over the cook."""

import heapq
import re
import threading
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from assistant.sound.player import Player
from assistant.sound.samples import Sound
from assistant.voice.speech import Speech, Tone, Urgency
from assistant.voice.synth import WORDS_PER_MINUTE, Voice, VoiceError, reply_pace
from assistant.voice.tones import tone_sound

RANK: dict[Urgency, int] = {"now": 0, "reply": 1, "soon": 2, "convenient": 3}
PATIENCE_S: dict[Urgency, float] = {"now": 5.0, "reply": 5.0, "soon": 20.0, "convenient": 120.0}
"""How long a speech waits for the cook to finish speaking before it goes all the same."""
LONGEST_QUEUE = 32
VOLUME_STEP_DB = 6.0
SENTENCE_END = re.compile(r"(?<=[.?!])\s+")

What = Literal["started", "ended", "cut", "unsaid", "dropped"]


@dataclass(frozen=True, slots=True)
class Spoken:
    """What became of a speech or a tone.

    started; then ended (the last sample was played), cut (hushed in the middle) or
    unsaid (no device or no engine: `why` says which, and the words are for the board).
    dropped: it never started, because too much was waiting.
    """

    what: What
    item: Speech | Tone
    why: str | None = None


def may_start(urgency: Urgency, held_s: float | None) -> bool:
    """Whether a speech may start; `held_s`: how long the cook has been speaking, None if not."""
    return held_s is None or held_s >= PATIENCE_S[urgency]


class QueueSpeaker:
    """A `Speaker`: says things in order of urgency, from a thread of its own.

    `on_spoken` is called from that thread: "started" before the first sample is
    sent, so that a microphone gate set there closes in time.
    """

    def __init__(
        self,
        voice: Voice | None,
        player: Player,
        on_spoken: Callable[[Spoken], None],
        *,
        now: Callable[[], float] = time.monotonic,
    ) -> None:
        self._voice = voice
        self._player = player
        self._on_spoken = on_spoken
        self._now = now
        self._waiting: list[tuple[int, int, Speech]] = []
        self._tones: list[Tone] = []
        self._number = 0
        self._held_since_s: float | None = None
        self._playing: Speech | Tone | None = None
        self._hushes = 0
        self._volume_db = 0.0
        self._closed = False
        self._changed = threading.Condition()
        self._thread = threading.Thread(target=self._run, name="speaker", daemon=True)
        self._thread.start()

    def say(self, speech: Speech) -> None:
        """Queue a speech; the least urgent is dropped when the queue is full."""
        with self._changed:
            self._number += 1
            heapq.heappush(self._waiting, (RANK[speech.urgency], self._number, speech))
            dropped = self._overflow()
            self._changed.notify_all()
        if dropped is not None:
            self._on_spoken(Spoken("dropped", dropped, "too much to say at once"))

    def tone(self, tone: Tone) -> None:
        """Queue a tone; tones go before all speech."""
        with self._changed:
            self._tones.append(tone)
            del self._tones[:-LONGEST_QUEUE]
            self._changed.notify_all()

    def hush(self) -> None:
        """Stop at once and drop what waits, except what must be said now."""
        with self._changed:
            self._hushes += 1
            self._tones.clear()
            self._waiting = [item for item in self._waiting if item[0] == RANK["now"]]
            heapq.heapify(self._waiting)
        self._player.hush()

    def duck(self, *, down: bool) -> None:
        """Turn the voice down while somebody speaks into it, and up again."""
        self._player.duck(down=down)

    def give_way(self) -> None:
        """The cook said something to it: break off, except what must be said now. A prompt
        is said anew when its turn comes again; an answer is not: another is due."""
        with self._changed:
            playing = self._playing
            if not isinstance(playing, Speech) or playing.urgency == "now":
                return
            self._hushes += 1
            if playing.urgency != "reply":
                self._number += 1
                heapq.heappush(self._waiting, (RANK[playing.urgency], self._number, playing))
        self._player.hush()

    def hold(self, *, cook_speaks: bool) -> None:
        """Tell that the cook began or ended speaking: nothing is said over the cook."""
        with self._changed:
            if not cook_speaks:
                self._held_since_s = None
            elif self._held_since_s is None:
                self._held_since_s = self._now()
            self._changed.notify_all()

    def set_volume(self, steps: int) -> None:
        """Louder or softer than normal by `steps` of 6 dB."""
        self._volume_db = VOLUME_STEP_DB * steps

    def wait_idle(self, timeout_s: float) -> bool:
        """Wait until all is said; False when it was not by then."""
        with self._changed:
            return self._changed.wait_for(self._is_idle, timeout_s)

    def close(self) -> None:
        """Stop speaking and let the device go."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()
        self._player.hush()
        self._thread.join(timeout=3.0)
        self._player.close()

    def _is_idle(self) -> bool:
        return not self._waiting and not self._tones and self._playing is None

    def _overflow(self) -> Speech | None:
        if len(self._waiting) <= LONGEST_QUEUE:
            return None
        last = max(self._waiting)
        self._waiting.remove(last)
        heapq.heapify(self._waiting)
        return last[2]

    def _run(self) -> None:
        while (item := self._next()) is not None:
            self._say(item)
            with self._changed:
                self._playing = None
                self._changed.notify_all()

    def _next(self) -> Speech | Tone | None:
        """Wait for the next thing that may be said; None when closed."""
        with self._changed:
            while not self._closed:
                item = self._ready()
                if item is not None:
                    self._playing = item
                    return item
                self._changed.wait(timeout=0.25 if self._waiting else None)
            return None

    def _ready(self) -> Speech | Tone | None:
        if self._tones:
            return self._tones.pop(0)
        held_s = None if self._held_since_s is None else self._now() - self._held_since_s
        if self._waiting and may_start(self._waiting[0][2].urgency, held_s):
            return heapq.heappop(self._waiting)[2]
        return None

    def _say(self, item: Speech | Tone) -> None:
        hushes = self._hushes
        self._on_spoken(Spoken("started", item))
        try:
            whole = all(
                hushes == self._hushes and self._player.play(sound, self._volume_db)
                for sound in self._sounds(item)
            )
        except VoiceError as error:
            self._on_spoken(Spoken("unsaid", item, str(error)))
            return
        if whole:
            self._on_spoken(Spoken("ended", item))
        elif hushes != self._hushes:
            self._on_spoken(Spoken("cut", item))
        else:
            self._on_spoken(Spoken("unsaid", item, "no speaker"))

    def _sounds(self, item: Speech | Tone) -> Iterator[Sound]:
        """The sounds of one item; the next sentence is made when the one before was heard."""
        if isinstance(item, str):
            yield tone_sound(item)
            return
        if item.urgency != "reply":
            yield tone_sound(item.urgency)
        if self._voice is None:
            raise VoiceError("no speech engine")
        pace = reply_pace(item.spoken) if item.urgency == "reply" else WORDS_PER_MINUTE
        for sentence in SENTENCE_END.split(item.spoken.strip()):
            if sentence:
                yield self._voice.sound(sentence, pace)
