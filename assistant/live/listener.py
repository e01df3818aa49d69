"""From microphone blocks to turns: who spoke, when it ended, what was understood.

Two threads: the caller's, which takes blocks and finds pauses, and one that
understands. Understanding starts at the first short pause and runs while the
speaker may still go on, so most of its time is spent inside the pause that has
to be waited for anyway.
"""

import threading
from collections import deque
from dataclasses import dataclass, field, replace
from math import inf

import numpy as np

from assistant.ears.heard import Heard
from assistant.live.cut_in import CutIn, heard_over
from assistant.live.gate import Gate
from assistant.live.jobs import Job, Key
from assistant.live.turn import Turn, Wiring
from assistant.live.utterance import BEGIN_CHUNKS, CHUNK, CHUNK_S, SAME_BREATH_S, Pauses, Utterance
from assistant.sound.microphone import Block
from assistant.sound.microphone_level import Level, amplified, heard_block, levelled
from assistant.sound.samples import RATE_HZ, Samples

PRESS_OPEN_S = 8.0  # how long a pressed key waits for the first word
MOST_WAITING = 4
OPENINGS_S = (1.1, 1.6, inf)
"""So much sound, the moment before the first word in it, holds an address word, said quickly or
slowly; a short command is over soon after."""


@dataclass
class Listener:
    """Feed it blocks; it reports turns. `push_only`: deaf unless a key was pressed."""

    wiring: Wiring
    gate: Gate
    pauses: Pauses = field(default_factory=Pauses)
    push_only: bool = False
    level: Level = field(default_factory=Level, init=False)
    lost: int = field(default=0, init=False)  # utterances nobody came to understand in time

    def __post_init__(self) -> None:
        """Start the thread that understands."""
        self._utterance = Utterance(self.pauses)
        self._rest: Samples = np.zeros((2, 0), np.int16)  # what is heard, and judged
        self._speech_end_s = 0.0
        self._looks = 0
        self._found: tuple[int, Heard] | None = None
        self._look: Job | None = None
        self._finals: deque[Job] = deque()
        self._key = Key()
        self._began_s = 0.0
        self._by_key = self._free = False
        self._follows = False
        self._taken_s = self._answered_s = float("-inf")
        self._noticed = False
        self._number = 0
        self._openings, self._opened = 0, False
        self._over = CutIn()  # the program's own voice
        self._told_cut_in = False
        self._closed = False
        self._busy = False
        self._changed = threading.Condition()
        self._thread = threading.Thread(target=self._understand, name="ears", daemon=True)
        self._thread.start()

    def feed(self, block: Block) -> None:
        """Take one block from the microphone."""
        judge_by = block.samples if block.judged is None else block.judged
        samples = np.concatenate([self._rest, np.stack([block.samples, judge_by])], axis=1)
        whole = samples.shape[1] // CHUNK * CHUNK
        self._rest = samples[:, whole:]
        for start in range(0, whole, CHUNK):
            after_s = (samples.shape[1] - start - CHUNK) / RATE_HZ
            heard, judged = samples[:, start : start + CHUNK]
            self._take(heard, judged, block.end_s - after_s)

    def press(self) -> None:
        """A key went down: listen, without the address word."""
        with self._changed:
            self._key = Key(self.wiring.now() + PRESS_OPEN_S, held=True)

    def let_go(self) -> None:
        """The key cannot tell when it comes up: the pause ends what is said."""
        with self._changed:
            self._key.held = False

    def release(self) -> None:
        """The key came up: what was said is over."""
        with self._changed:
            self._key.held = False
            if self._utterance.is_speech:
                self._finish()

    def forget(self) -> None:
        """Drop what was being said: the microphone was lost, or the gate closed."""
        with self._changed:
            self._drop()

    def wait_idle(self, timeout_s: float) -> bool:
        """Wait until all that was said is understood; False when it was not by then."""
        with self._changed:
            return self._changed.wait_for(
                lambda: not self._busy and self._look is None and not self._finals, timeout_s
            )

    def close(self) -> None:
        """Stop understanding."""
        with self._changed:
            self._closed = True
            self._changed.notify_all()
        self._thread.join(timeout=5.0)

    def _take(self, chunk: Samples, judged: Samples, end_s: float) -> None:
        if not self.gate.lets_through(end_s - CHUNK_S):
            self.forget()
            return
        if not self._may_listen():
            self.forget()
            return
        probability = self.wiring.vad(amplified(judged, self.level.gain_db))
        with self._changed:
            change = self._utterance.add(chunk, probability)
            speaks = self._utterance.is_speech and self._utterance.pause_s == 0
            self.level = heard_block(self.level, chunk, is_speech=speaks)
            if speaks:
                self._speech_end_s = end_s
            sounds = not self.gate.is_quiet(end_s - CHUNK_S)
            self._over.add(CHUNK_S, speaks=speaks, sounds=sounds)
            self._tell_cut_in(is_so=self._over.is_cut_in)
            if change == "began":
                self._begin()
            if change == "paused":
                self._ask_for_look()
            elif not self._opened and self._utterance.length_s >= OPENINGS_S[self._openings]:
                self._ask_for_opening()
            elif change == "resumed":
                self._look = None
            if change == "full" or self._utterance.is_over:
                self._finish()
            else:
                self._notice()

    def _begin(self) -> None:
        began_s = self._speech_end_s - BEGIN_CHUNKS * CHUNK_S
        in_breath = began_s - self._taken_s <= SAME_BREATH_S
        self._follows = in_breath and self.gate.is_quiet(began_s)
        self._began_s = began_s
        self._by_key = self._key_is_open()
        self._free = self._by_key or self.wiring.is_free()
        self._looks = 0
        self._noticed = False
        self._number += 1
        self._openings, self._opened = 0, False
        self.wiring.on_speech(self._utterance.is_speech)

    def _notice(self) -> None:
        """Tell the cook at a pause when it was meant for us, though more may yet follow."""
        if self._noticed or self._utterance.pause_s < self.pauses.notice_s:
            return
        is_free = self._free and self._over.is_clear
        if is_free or self._opened or self._is_taken():
            self._noticed = True
            self.wiring.on_noticed()

    def _tell_cut_in(self, *, is_so: bool) -> None:
        if is_so != self._told_cut_in:
            self._told_cut_in = is_so
            self.wiring.on_cut_in(is_so)

    def _is_taken(self) -> bool:
        """Whether a look found a command in all that was said so far."""
        found = self._found
        is_known = found is not None and found[0] == self._utterance.version
        return is_known and found is not None and found[1].outcome != "refuse"

    def _may_listen(self) -> bool:
        return not self.push_only or self._utterance.is_speech or self._key_is_open()

    def _key_is_open(self) -> bool:
        return self._key.held or self.wiring.now() < self._key.until_s

    def _ask_for_look(self) -> None:
        self._looks += 1
        self._look = self._job(is_final=False)
        self._changed.notify_all()

    def _ask_for_opening(self) -> None:
        """While it is still being said: whether it is meant for us, for the tone not to wait."""
        self._openings += 1
        if not (self._free or self._follows) and self._look is None:
            self._look = replace(self._job(is_final=False), only_opening=True, number=self._number)
            self._changed.notify_all()

    def _job(self, *, is_final: bool) -> Job:
        utterance = self._utterance
        return Job(
            levelled(utterance.samples(), self.level.gain_db),
            utterance.version, self._free, self._follows, self._over.is_over,
            self._speech_end_s, is_final, self._looks, self._noticed,
            began_s=self._began_s, by_key=self._by_key, clear=self._over.is_clear,
            resumed=utterance.resumed,
        )  # fmt: skip

    def _finish(self) -> None:
        """The utterance is over: report it if it was understood already, else have it done."""
        job = self._job(is_final=True)
        found = self._found
        in_work = self._look
        self._clear()
        if found is not None and found[0] == job.version:
            self._report(job, found[1])
            return
        if in_work is None or in_work.version != job.version:
            job.looks += 1
        self._finals.append(job)
        while len(self._finals) > MOST_WAITING:
            self._finals.popleft()
            self.lost += 1
        self._changed.notify_all()

    def _clear(self) -> None:
        self._utterance.clear()
        self._look = None
        self._found = None
        self._key.until_s = float("-inf")
        self._over = CutIn()
        self._tell_cut_in(is_so=False)
        self.wiring.on_speech(self._utterance.is_speech)

    def _drop(self) -> None:
        if self._utterance.is_speech:
            self._clear()
        else:
            self._utterance.clear()

    def _report(self, job: Job, heard: Heard) -> None:
        is_free = self._is_free(job)
        if heard.outcome != "refuse":
            self._taken_s = job.speech_end_s
            if is_free:
                self._answered_s = self.wiring.now()
        self.wiring.on_turn(
            Turn(
                heard, job.samples, job.speech_end_s, self.wiring.now(), job.looks,
                job.noticed, is_free,
            )
        )  # fmt: skip

    def _is_free(self, job: Job) -> bool:
        """Whether it needs no address word. What was left of the program's own voice answers
        nothing; and where understanding lags behind, the words before may have answered."""
        return job.free and (job.by_key or (job.clear and job.began_s > self._answered_s))

    def _understand(self) -> None:
        while (job := self._next_job()) is not None:
            if job.only_opening:
                opens = self.wiring.opens(job.samples)
                with self._changed:
                    if job.number == self._number:
                        self._opened |= opens
                continue
            heard = self._heard(job)
            with self._changed:
                if job.is_final:
                    self._report(job, heard)
                    continue
                self._settle_look(job, heard)

    def _heard(self, job: Job) -> Heard:
        heard = self.wiring.hear(job.samples, self._is_free(job) or job.follows)
        return heard_over(job, heard, self.wiring) if job.over else heard

    def _settle_look(self, job: Job, heard: Heard) -> None:
        waiting = [final for final in self._finals if final.version == job.version]
        if waiting:  # it ended while it was being looked at: this is the answer
            self._finals.remove(waiting[0])
            self._report(waiting[0], heard)
        elif job.version == self._utterance.version:
            self._found = (job.version, heard)
            outlook = self.wiring.outlook(heard)
            self._utterance.judge(job.version, outlook)
            is_left_over = job.over and outlook == "hopeless" and not self._is_free(job)
            if self._utterance.is_over or is_left_over:
                self._finish()  # what its own voice left must not run into the cook's words

    def _next_job(self) -> Job | None:
        with self._changed:
            self._busy = False
            self._changed.notify_all()
            while not self._closed:
                job = self._finals.popleft() if self._finals else self._look
                if job is not None:
                    self._look = None if job is self._look else self._look
                    self._busy = True
                    return job
                self._changed.wait()
            return None
