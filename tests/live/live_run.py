"""The whole program on a virtual sound card: spoken to, listened to, measured.

Nothing inside the program is replaced: `turnspit cook` opens the microphone and
the speaker of a private sound server, and is judged by what goes in and comes out.
"""

import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache

import numpy as np
import psutil

from assistant.sound.player import at_rate
from assistant.sound.samples import RATE_HZ, Samples
from assistant.voice.tones import tone_sound
from tests.benchmarks.corpus import pink, say, voices
from tests.live.program import Program
from tests.live.room import Mouth, Tape, place_of
from tests.live.script import Said, lines
from tests.live.sound_server import NoSoundServerError, SoundServer, discard, new_server

READY_S = 90.0
AGAIN_S = 30.0  # a busy machine starts a child in seconds
LATE_S = 4.0
SETTLE_S = 8.0  # for models to be loaded before anything is said or measured
ENDING = RATE_HZ // 2  # samples of a line's end: a busy server may have torn it further up
REPLY_S = 9.0  # after the end of a line, until the next
INTO_S = 0.8  # of an answer, before somebody speaks into it
NOISE_DB = -35.0  # of the grill, below the speech
SPEECH_PEAK = 12_000
SOUND_ABOVE = 150
TONE_LIKE = 0.8
WANTED_VOICES = ("joe", "slt", "rms", "awb", "en-us")


@dataclass
class Spoken:
    """One line, and what came of it. Delays are seconds from the last sample of speech
    to the first sample of the tone and of the words; None: there was none."""

    line: Said
    sound: Samples
    began_s: float
    ended_s: float = 0.0
    heard: dict[str, object] | None = None
    tone_s: float | None = None
    words_s: float | None = None
    reply: str = ""
    reply_sound: Samples = field(default_factory=lambda: np.zeros(0, np.int16))

    @property
    def understood(self) -> bool:
        """Whether the command came out as it was meant."""
        if self.line.means is None or self.heard is None:
            return False
        name, slots = self.line.means
        found = self.heard.get("slots")
        assert isinstance(found, dict)
        return self.heard["command"] == name and all(
            found.get(slot) == value for slot, value in slots.items()
        )

    def summary(self) -> str:
        """One line: the words, what came of them, and the delays."""
        became = "understood" if self.understood else f"NOT understood: {self.heard}"
        delays = [
            "none" if delay_s is None else f"{delay_s * 1000:.0f} ms"
            for delay_s in (self.tone_s, self.words_s)
        ]
        return f"{self.line.words:<42} tone {delays[0]:>8}  words {delays[1]:>8}  {became}"


@dataclass
class Outcome:
    """What a run showed. `self_triggers`: reactions to its own voice or to nothing;
    `false_answers`: to talk; `returns_s`: infinite where it never listened again. `cpu_s` and
    `memory_mb` are of the program with its children, `silent_cpu_s` over `silent_s` seconds in
    which nobody spoke."""

    spoken: list[Spoken]
    self_triggers: list[dict[str, object]]
    false_answers: list[dict[str, object]]
    returns_s: list[float]
    cpu_s: float
    minutes: float
    memory_mb: float
    silent_cpu_s: float
    silent_s: float
    errors: list[str]


def wait_for(condition: Callable[[], object], timeout_s: float, what: str) -> None:
    """Wait in real time. Raises TimeoutError naming what did not come."""
    end_s = time.monotonic() + timeout_s
    while not condition():
        if time.monotonic() > end_s:
            raise TimeoutError(f"{what} within {timeout_s:g} s")
        time.sleep(0.02)


def sound_of(line: Said, number: int) -> Samples:
    """The line in one of the voices at hand, at a speaking level."""
    known = voices(WANTED_VOICES)
    return _spoken_by(known[number % len(known)], line.spoken)


@cache
def _spoken_by(voice: str, words: str) -> Samples:
    samples = say(words, voice)[RATE_HZ // 2 : -RATE_HZ // 2]
    scale = SPEECH_PEAK / max(1, int(np.abs(samples.astype(np.int32)).max()))
    return (samples * scale).astype(np.int16)


def grill_noise(seconds: float = 20.0) -> Samples:
    """Steady noise, well below the speech, that repeats."""
    wave = pink(round(seconds * RATE_HZ), np.random.default_rng(7))
    return (wave * SPEECH_PEAK / 4 * 10 ** (NOISE_DB / 20)).astype(np.int16)


def run(
    count: int,
    *options: str,
    kills: int = 2,
    silent_s: float = 10.0,
    progress: Callable[[str], object] = lambda _text: None,
) -> Outcome:
    """Say `count` lines to the program; kill and restart the sound server on the way.

    Raises NoSoundServerError where no virtual card can be had.
    """
    script = [(line, sound_of(line, number)) for number, line in enumerate(lines(count))]
    server = new_server(echo=True)
    mouth = Mouth(server, grill_noise())
    ear, tape = Tape(server, "cook.monitor"), Tape(server, "said.monitor")
    program = Program(server, *options)
    spoken: list[Spoken] = []
    returns_s: list[float] = []
    kill_after = {round((number + 1) * count / (kills + 1)) for number in range(kills)}
    try:
        wait_for(lambda: program.of_kind("event"), READY_S, "a cook")
        wait_for(lambda: _ears_of(program), READY_S, "ears")
        time.sleep(SETTLE_S)
        began_s, cpu_s = time.monotonic(), program.cpu_s()
        time.sleep(silent_s)
        silent_cpu_s = program.cpu_s() - cpu_s
        for number, (line, sound) in enumerate(script):
            if program.process.poll() is not None:
                program.errors.append((time.monotonic(), f"it ended before line {number + 1}"))
                spoken += [Spoken(*pair, time.monotonic()) for pair in script[number:]]
                break
            if number in kill_after:
                returns_s.append(_kill_and_restart(server, program))
            if not line.over:
                _wait_for_silence(tape)
            said = _as_loud_as_it(tape, sound) if line.over else sound
            spoken.append(_speak(mouth, program, line, said))
            follows = script[number + 1][0] if number + 1 < count else None
            if follows is not None and follows.over:
                _wait_for_words(program, tape, spoken[-1].began_s)
            else:
                time.sleep(REPLY_S)
            _note(spoken[-1], program)
            progress(f"{number + 1}/{count}  {line.words}")
        cpu_s = program.cpu_s() - cpu_s
        memory_mb = program.memory_mb()
        minutes = (time.monotonic() - began_s) / 60
        for thing in (mouth, ear, tape):
            thing.stop()
        for one in spoken:
            _measure(one, ear, tape)
        return Outcome(
            spoken, *_undue(program, spoken), returns_s, cpu_s, minutes, memory_mb,
            silent_cpu_s, silent_s, [text for _, text in program.errors],
        )  # fmt: skip
    finally:
        for thing in (mouth, ear, tape):
            thing.stop()
        try:
            program.end()
        finally:
            discard(server)


def _ears_of(program: Program) -> bool:
    with suppress(psutil.NoSuchProcess, psutil.ZombieProcess):  # it ended while we looked
        return any("microphone_child" in " ".join(one.cmdline()) for one in program.family())
    return False


def _kill_and_restart(server: SoundServer, program: Program) -> float:
    """Seconds from the server's return to the program saying that it hears again; infinite
    where it does not."""
    time.sleep(1.0)
    server.kill()
    time.sleep(1.5)
    before = len(program.errors)
    try:
        server.start()
    except NoSoundServerError:  # a busy machine
        server.kill()
        server.start()
    back_s = time.monotonic()

    def hears_again() -> bool:
        return any("hear you again" in text for _, text in program.errors[before:])

    try:
        wait_for(hears_again, AGAIN_S, "listening again")
    except TimeoutError:
        return float("inf")
    heard_s = next(at_s for at_s, text in program.errors[before:] if "hear you again" in text)
    time.sleep(4.0)  # it says so; then the cook goes on
    return max(0.0, heard_s - back_s)


def _wait_for_silence(tape: Tape) -> None:
    """Nobody talks into somebody else's sentence: wait until the speaker is silent."""
    for _ in range(80):
        if tape.silent_for(0.9, SOUND_ABOVE):
            return
        time.sleep(0.1)


def _wait_for_words(program: Program, tape: Tape, since_s: float) -> None:
    """Wait until the program is well into its answer: past the tone, whatever it says."""
    for _ in range(80):
        if program.of_kind("said", since_s) and not tape.silent_for(0.3, SOUND_ABOVE):
            break
        time.sleep(0.1)
    time.sleep(INTO_S)


def _as_loud_as_it(tape: Tape, sound: Samples) -> Samples:
    """The sound at the level at which the program speaks just now."""
    own, mine = (loud_rms(one) for one in (tape.last(INTO_S), sound))
    wave = sound.astype(np.float64) * (own / mine if own else 1.0)
    return np.clip(wave, -32_768, 32_767).astype(np.int16)


def loud_rms(sound: Samples) -> float:
    """Root mean square of what is no silence."""
    loud = sound[np.abs(sound.astype(np.int32)) > SOUND_ABOVE].astype(np.float64)
    return float(np.sqrt(np.mean(loud**2))) if loud.size else 0.0


def _speak(mouth: Mouth, program: Program, line: Said, sound: Samples) -> Spoken:
    one = Spoken(line, sound, time.monotonic())
    mouth.say(one.sound)
    one.ended_s = time.monotonic()
    return one


def _note(one: Spoken, program: Program) -> None:
    """What the program says that it heard and answered, before the next line."""
    heard = program.of_kind("heard", one.began_s)
    replies = program.of_kind("said", one.began_s)
    one.heard = heard[0][1] if heard else None
    one.reply = str(replies[0][1]["text"]) if heard and replies else ""


def _measure(one: Spoken, ear: Tape, tape: Tape) -> None:
    """Find the line's end on the microphone's tape and the answer on the speaker's."""
    heard_on, said_on = ear.at(one.began_s), tape.at(one.began_s)
    if heard_on is None or said_on is None:
        return
    # The sound server may play a line seconds late, after it ran dry and filled up again.
    begin_s, stretch = heard_on.between(one.began_s - 0.2, one.ended_s + LATE_S)
    loud = np.flatnonzero(np.abs(one.sound.astype(np.int32)) > 0.02 * SPEECH_PEAK)
    ending = one.sound[max(0, int(loud[-1]) - ENDING) : int(loud[-1]) + 1]
    place, alike = place_of(ending, stretch)
    if alike < 0.5:
        return
    end_s = begin_s + (place + len(ending)) / RATE_HZ
    one.ended_s = end_s
    from_s, answer = said_on.between(end_s, end_s + REPLY_S - 1.0)
    tone = at_rate(tone_sound("heard"), RATE_HZ)
    at, like = place_of(tone, answer[: 4 * RATE_HZ])
    after = 0
    if like > TONE_LIKE:
        one.tone_s = from_s + at / RATE_HZ - end_s
        after = at + len(tone)
    words = np.flatnonzero(np.abs(answer[after:].astype(np.int32)) > SOUND_ABOVE)
    if words.size:
        one.words_s = from_s + (after + int(words[0])) / RATE_HZ - end_s
        one.reply_sound = answer[after + int(words[0]) :]


def _undue(
    program: Program, spoken: list[Spoken]
) -> tuple[list[dict[str, object]], list[dict[str, object]]]:
    """What it reacted to although nobody had said a command, and of that the answers to talk by
    themselves: one reaction is due to each command spoken, in the time until the next line."""
    by_itself, to_talk = [], []
    ends = [one.began_s for one in spoken[1:]] + [float("inf")]
    for kind in ("heard", "refused"):
        due = [
            (one.began_s, end_s) for one, end_s in zip(spoken, ends, strict=True) if one.line.means
        ]
        for at_s, line in program.of_kind(kind):
            mine = next((span for span in due if span[0] <= at_s < span[1]), None)
            before = [one for one in spoken if one.began_s <= at_s]
            if mine is not None:
                due.remove(mine)
            elif before and before[-1].line.means is None:
                to_talk.append(line)
            else:
                by_itself.append(line)
    return by_itself, to_talk
