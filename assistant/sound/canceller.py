"""The program's own voice taken out of what the microphone hears.

Two cancellers side by side. That of the WebRTC audio processing module (AEC3, through
pywebrtc-audio) leaves next to nothing of the own voice, but holds down the cook as well
where both speak. A linear filter leaves the cook whole, and some of the own voice. So the
first says whether anybody else speaks, and what was said is heard from the second
(`python -m tests.benchmarks.cancellers` measures each alone and both).
"""

from collections import deque
from typing import Protocol

import numpy as np

from assistant.sound.echo_delay import EchoDelay
from assistant.sound.echo_filter import EchoFilter
from assistant.sound.microphone import Block
from assistant.sound.played import Played
from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.timeline import Timeline
from assistant.system import parts

LIBRARY = "pywebrtc_audio"
FRAME = 160  # samples, 10 ms: the library pads what is no whole number of these
PART = 3 * FRAME
LEAD_S = 0.03  # the reference goes ahead by this: the module cannot look into the future
LEARNS_S = 1.5  # of its own voice well taken out, before what is left may be listened to
TRUSTED_S = 4.0  # the most that is counted: this much gone wrong ends the trust
AGAIN_S = 0.6  # of its own voice, before it is worth going through it once more
PAUSE_S = 0.1  # of its own voice: time for that
KEPT_S = 6.0
SOUNDS_ABOVE = 100  # of 16-bit samples
SMOOTH = 0.2  # of powers, a frame
OTHERS = 8.0  # times the noise: what AEC3 leaves where somebody else speaks
FLOOR_FRAMES, FLOOR_PARTS = 30, 10  # the noise is the least of the last 3 s, in parts of 0.3 s
HOLD_FRAMES = 50  # half a second: between two words of the cook
TORN_S = 0.06  # a step of the microphone's times that is no jitter: samples were lost


class Canceller(Protocol):
    """Takes `far` out of `near`; both are whole frames of `FRAME` samples."""

    def process(self, near: Samples, far: Samples) -> Samples:
        """What is left of `near`."""
        ...


def webrtc() -> Canceller:
    """AEC3. Raises PartMissing."""
    made: Canceller = parts.load(LIBRARY).EchoCanceller(sample_rate=RATE_HZ, num_channels=1)
    return made


def both() -> "Pair":
    """The linear filter, and AEC3 to judge by. Raises PartMissing."""
    return Pair(webrtc())


class Pair:
    """What the filter leaves, and the same for judging whether anybody speaks: there it is
    the filter's only while somebody else does, else AEC3's."""

    def __init__(self, strict: Canceller) -> None:
        self._strict = strict
        self._filter = EchoFilter()
        self._power = 1.0  # of what AEC3 leaves, and the least of late: the fire's own noise
        self._least: deque[float] = deque([1.0], maxlen=FLOOR_PARTS)
        self._frames = 0
        self._open = 0  # frames

    def process(self, near: Samples, far: Samples) -> tuple[Samples, Samples]:
        """What is left of `near`: to be heard, and to be judged."""
        strict, gentle = self._strict.process(near, far), self._filter.process(near, far)
        pairs = zip(strict.reshape(-1, FRAME), gentle.reshape(-1, FRAME), strict=True)
        return gentle, np.concatenate([self._judged(*pair) for pair in pairs])

    @property
    def leaves_more_than_noise(self) -> bool:
        """Whether AEC3 leaves anything but the fire: somebody speaks, or it has failed."""
        return self._power > min(self._least) * OTHERS

    def _judged(self, strict: Samples, gentle: Samples) -> Samples:
        power = _power(strict)
        self._power += SMOOTH * (power - self._power)
        self._frames += 1
        if self._frames % FLOOR_FRAMES == 0:
            if self._frames == FLOOR_FRAMES:  # of a stream that only began
                self._least.clear()
            self._least.append(self._power)
        self._least[-1] = min(self._least[-1], self._power)
        if self.leaves_more_than_noise:
            self._open = HOLD_FRAMES
        self._open = max(0, self._open - 1)
        return gentle if self._open else strict


def _sounds(far: Samples) -> bool:
    return bool(np.max(np.abs(far.astype(np.int32))) > SOUNDS_ABOVE)


def _power(samples: Samples) -> float:
    return float(np.mean(samples.astype(np.float64) ** 2)) + 1.0


class EchoFree:
    """A microphone's blocks without what was `played`, one after the other.

    A room that is not known yet is learned from little: what was heard of the own voice is gone
    through once more at every pause of it, and when its delay was found. So a sentence or two
    are enough, where hearing each sound once took it two answers.
    """

    def __init__(self, canceller: Pair, played: Played) -> None:
        self._canceller = canceller
        self._played = played
        self._line = Timeline()
        self._delay = EchoDelay(played)
        self._rest: Samples = np.zeros(0, np.int16)
        self._taken = 0  # samples of the stream so far
        self._next_s: float | None = None  # where the reference goes on
        self._learned_s = 0.0
        self._unlearn()

    @property
    def is_ready(self) -> bool:
        """Whether its own voice is taken out well enough to listen through it."""
        return self._learned_s >= LEARNS_S

    def forget(self) -> None:
        """Another device, or another place for it: learn again."""
        self._line, self._next_s = Timeline(), None
        self._delay = EchoDelay(self._played)
        self._taken, self._learned_s = 0, 0.0
        self._rest = np.zeros(0, np.int16)
        self._unlearn()

    def __call__(self, block: Block) -> Block:
        """The block's whole frames, cleaned; what is over waits for the next block."""
        self._taken += len(block.samples)
        self._line.stamp(self._taken / RATE_HZ, block.end_s)
        near = np.concatenate([self._rest, block.samples])
        whole = len(near) // FRAME * FRAME
        near, self._rest = near[:whole], near[whole:]
        end_s = self._line.at((self._taken - len(self._rest)) / RATE_HZ) or 0.0
        if whole == 0:
            return Block(near, end_s)
        far = self._reference(near, end_s - whole / RATE_HZ)
        gentle, judged = self._canceller.process(near, far)
        sounds = _sounds(far)
        if sounds:
            self._learn(whole / RATE_HZ)
        if not self.is_ready:
            self._keep(near, sounds=sounds)
        return Block(gentle, end_s, judged)

    def _unlearn(self) -> None:
        self._kept: Samples = np.zeros(0, np.int16)  # heard since it began to speak
        self._new_s, self._paused_s = 0.0, 0.0  # of its voice not gone through again; silence since
        self._known_s = self._delay.seconds

    def _keep(self, near: Samples, *, sounds: bool) -> None:
        """Keep what is heard while the room is learned, and go through it when that is due."""
        if not sounds and len(self._kept) == 0:
            return
        self._kept = np.concatenate([self._kept, near])[-round(KEPT_S * RATE_HZ) :]
        seconds = len(near) / RATE_HZ
        self._new_s += seconds if sounds else 0.0
        self._paused_s = 0.0 if sounds else self._paused_s + seconds
        is_due = self._paused_s >= PAUSE_S or self._delay.seconds != self._known_s
        if self._new_s >= AGAIN_S and is_due:
            self._new_s, self._known_s = 0.0, self._delay.seconds
            self._go_through(self._kept)
            if self.is_ready:
                self._unlearn()

    def _go_through(self, near: Samples) -> None:
        assert self._next_s is not None
        begin_s = self._next_s - len(near) / RATE_HZ + LEAD_S - self._delay.seconds
        for at in range(0, len(near), PART):
            part = near[at : at + PART]
            far = self._played.between(begin_s + at / RATE_HZ, len(part))
            self._canceller.process(part, far)
            if _sounds(far):
                self._learn(len(part) / RATE_HZ)

    def _learn(self, seconds: float) -> None:
        """Trust grows while its own voice is well taken out, and shrinks while it is not, but
        slowly: then somebody may be speaking into it."""
        self._learned_s += -seconds / 4 if self._canceller.leaves_more_than_noise else seconds
        self._learned_s = min(TRUSTED_S, max(0.0, self._learned_s))

    def _reference(self, near: Samples, begin_s: float) -> Samples:
        """What was played while `near`, which goes on without a gap unless the times step."""
        if self._next_s is None or abs(begin_s - self._next_s) > TORN_S:
            self._next_s = begin_s
            self._unlearn()
        at_s = self._next_s
        self._next_s += len(near) / RATE_HZ
        self._delay.heard(near, self._next_s)
        return self._played.between(at_s + LEAD_S - self._delay.seconds, len(near))
