"""A cook's mouth and two tapes on the virtual sound card, all in real time.

The mouth never falls silent: between sentences it is the grill's own noise. The
tapes record what the microphone hears and what the speaker says, with the time
of every sample, so that a delay is measured from sound to sound.
"""

import os
import queue
import subprocess
import threading
import time
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from assistant.sound.samples import RATE_HZ, Samples
from tests.live.sound_server import SoundServer

BLOCK = 160  # samples, 10 ms
LATENCY = "--latency-msec=20"
AHEAD_S = 0.15  # the mouth is fed this far ahead, so that a busy machine does not tear its words
FORM = (f"--rate={RATE_HZ}", "--channels=1", "--format=s16le")
RETRY_S = 0.2


@dataclass
class Mouth:
    """Speaks what is put into its queue, over noise, until stopped."""

    server: SoundServer
    noise: Samples
    speech: "queue.SimpleQueue[Samples]" = field(default_factory=queue.SimpleQueue)
    stopping: threading.Event = field(default_factory=threading.Event)
    speaking: threading.Event = field(default_factory=threading.Event)

    def __post_init__(self) -> None:
        self.thread = threading.Thread(target=self._run, daemon=True)
        self.thread.start()

    def say(self, samples: Samples) -> None:
        """Speak and wait until all of it went out."""
        self.speech.put(samples)
        self.speaking.set()
        while self.speaking.is_set() and not self.stopping.is_set():
            time.sleep(0.01)

    def stop(self) -> None:
        """Fall silent for good."""
        self.stopping.set()
        self.thread.join(timeout=3)

    def _run(self) -> None:
        blocks = self._blocks()
        while not self.stopping.is_set():
            out = subprocess.Popen(
                ["pacat", "-d", "cook", "--latency-msec=200", *FORM],
                stdin=subprocess.PIPE, stderr=subprocess.DEVNULL, env=self.server.environment,
            )  # fmt: skip
            assert out.stdin is not None
            due_s = time.monotonic() - AHEAD_S
            try:
                while not self.stopping.is_set() and out.poll() is None:
                    out.stdin.write(next(blocks).tobytes())
                    out.stdin.flush()
                    due_s += BLOCK / RATE_HZ
                    time.sleep(max(0.0, due_s - time.monotonic()))
            except OSError:
                pass  # the server was killed
            out.kill()
            with suppress(OSError):  # what was not written any more
                out.stdin.close()
            out.wait()
            self.stopping.wait(RETRY_S)

    def _blocks(self) -> Iterator[Samples]:
        place, waiting = 0, np.zeros(0, np.int16)
        while True:
            noise = np.take(self.noise, range(place, place + BLOCK), mode="wrap")
            place = (place + BLOCK) % len(self.noise)
            if len(waiting) == 0:
                if self.speech.empty():
                    self.speaking.clear()
                else:
                    waiting = self.speech.get()
            block = noise.astype(np.int32)
            now, waiting = waiting[:BLOCK], waiting[BLOCK:]
            block[: len(now)] += now
            yield np.clip(block, -32_768, 32_767).astype(np.int16)


@dataclass(frozen=True)
class Reel:
    """One unbroken stretch of tape. `arrived_s` holds when each block came, `counts` how
    many samples had come by then."""

    samples: Samples
    arrived_s: NDArray[np.float64]
    counts: NDArray[np.int64]

    def covers(self, when_s: float) -> bool:
        """Whether it was running then."""
        return bool(self.arrived_s[0] <= when_s <= self.arrived_s[-1])

    def between(self, begin_s: float, end_s: float) -> tuple[float, Samples]:
        """The part between these times, and when it begins.

        A sample's time is the earliest its block can have come, judged from the
        blocks around: that takes the reader's own delays out, and samples the server
        lost before do no harm.
        """
        near = (self.arrived_s >= begin_s - 1.0) & (self.arrived_s <= end_s + 1.0)
        if not near.any():
            return begin_s, self.samples[:0]
        began_s = float(np.min(self.arrived_s[near] - self.counts[near] / RATE_HZ))
        first = max(0, round((begin_s - began_s) * RATE_HZ))
        last = max(first, round((end_s - began_s) * RATE_HZ))
        return began_s + first / RATE_HZ, self.samples[first:last]


class Tape:
    """Records one monitor until stopped; a killed server begins another reel."""

    def __init__(self, server: SoundServer, monitor: str) -> None:
        self._server = server
        self._monitor = monitor
        self._stopping = threading.Event()
        self._reels: list[list[tuple[float, Samples]]] = []
        self._thread = threading.Thread(target=self._run, daemon=True)
        self._thread.start()

    def stop(self) -> None:
        """Stop recording."""
        self._stopping.set()
        self._thread.join(timeout=3)

    def at(self, when_s: float) -> Reel | None:
        """The reel that was running then."""
        for growing in list(self._reels):
            blocks = list(growing)
            if blocks:
                sounds = [samples for _, samples in blocks]
                reel = Reel(
                    np.concatenate(sounds),
                    np.array([arrived_s for arrived_s, _ in blocks]),
                    np.cumsum([len(samples) for samples in sounds]),
                )
                if reel.covers(when_s):
                    return reel
        return None

    def silent_for(self, seconds: float, above: int) -> bool:
        """Whether nothing was louder than `above` in the last seconds."""
        blocks = self._reels[-1][-200:] if self._reels else []
        since_s = time.monotonic() - seconds
        recent = [samples for arrived_s, samples in blocks if arrived_s >= since_s]
        return all(np.abs(one.astype(np.int32)).max(initial=0) < above for one in recent)

    def last(self, seconds: float) -> Samples:
        """What was recorded last."""
        blocks = self._reels[-1][-200:] if self._reels else []
        sounds = [samples for _, samples in blocks] or [np.zeros(0, np.int16)]
        return np.concatenate(sounds)[-round(seconds * RATE_HZ) :]

    def _run(self) -> None:
        while not self._stopping.is_set():
            recorder = subprocess.Popen(
                ["parec", "-d", self._monitor, LATENCY, *FORM],
                stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, env=self._server.environment,
            )  # fmt: skip
            assert recorder.stdout is not None
            blocks: list[tuple[float, Samples]] = []
            self._reels.append(blocks)
            while not self._stopping.is_set():
                raw = os.read(recorder.stdout.fileno(), 4096)
                if not raw:
                    break
                blocks.append((time.monotonic(), np.frombuffer(raw, dtype="<i2")))
            recorder.kill()
            recorder.stdout.close()
            recorder.wait()
            self._stopping.wait(RETRY_S)


def place_of(sound: Samples, tape: Samples) -> tuple[int, float]:
    """Where `sound` lies in `tape` (its first sample), and how alike they are (0 to 1)."""
    if len(tape) < len(sound):
        return 0, 0.0
    size = 1 << (len(tape) + len(sound)).bit_length()
    wave, pattern = tape.astype(np.float64), sound.astype(np.float64)
    product = np.fft.rfft(wave, size) * np.conj(np.fft.rfft(pattern, size))
    matches: NDArray[np.float64] = np.fft.irfft(product, size)[: len(tape) - len(sound) + 1]
    best = int(np.argmax(matches))
    there = wave[best : best + len(sound)]
    scale = float(np.linalg.norm(there) * np.linalg.norm(pattern))
    return best, float(matches[best]) / scale if scale else 0.0
