"""`turnspit demo`: a whole cook with no sound hardware.

A synthetic voice in a room with a fan says the lines of an invented family dinner;
the real recogniser hears them; everything after that is the program itself: a real
journal, the forecasts, the prompts, the read-backs. Only the cook's mouth and the
clock are simulated. Like a person, the mouth answers a question it was asked, says
again what was not understood, and takes back what was heard wrong.
"""

import contextlib
import shlex
import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from functools import partial
from pathlib import Path

import numpy as np

from assistant.app.rehearse import START_S, Step, read_script
from assistant.cook.rules.talk import last_facts
from assistant.cook.state import Pending
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.grammar.grammar import Names
from assistant.journal.resilient import ResilientJournal
from assistant.session.free_words import context_of, heard_by_ear
from assistant.session.line import Line
from assistant.session.opening import CookLog
from assistant.session.session import Session
from assistant.sound.player import at_rate
from assistant.sound.samples import RATE_HZ, Samples, Sound
from assistant.system import places
from assistant.system.clock import VirtualClock
from assistant.voice.synth import Synth, Voice, espeak, find_synth
from assistant.voice.wav_files import Tape

NAME = "family dinner"
SCRIPT = "family_dinner.txt"
TONIGHT = Names(birds=3, sauces=("apricot", "harissa"))
WORDS_PER_MINUTE = 150
SLOWER = 125
ROOM_DB = 20.0  # speech above the room's noise
QUIET_S = 0.4  # of room noise before and after each line
AGAIN_S = 6.0  # until the mouth answers or says a line again
TRIES = 2  # times a line is said again
PLACES = ("the first one", "the second one", "the third one")

Ear = Callable[[Samples, Session], Heard]


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a demo: lines spoken from the script, how many were understood
    exactly at once, lines said again or taken back, and questions asked back."""

    spoken: int
    exact: int
    mended: int
    asked_back: int
    conversation_s: float
    journal: Path
    replay: str
    wav: Path


def run_demo(show: Callable[[Line], None], ear: Ear, folder: Path | None = None) -> Outcome:
    """Speak, hear and cook the family dinner; `show` gets every line as it happens.

    Its journal and sound lie in a data folder of their own, so that an invented
    dinner never teaches the kitchen anything. Raises VoiceError without a voice,
    JournalError or OSError where the folder cannot be written.
    """
    home = folder if folder is not None else places.data_folder() / "demo"
    path = home / "turnspit" / "journal.sqlite3"
    wav = home / "conversation.wav"
    synth = find_synth()
    # Two people are told apart by their voices; the recogniser only hears the cook's.
    answering = partial(espeak, voice="en-us+f3") if synth is espeak else synth
    tape = Tape(wav, Voice(answering))
    try:
        with contextlib.closing(ResilientJournal.open(path, at_s=START_S)) as journal:
            log = CookLog(journal, journal.begin(NAME, START_S))
            dinner = Dinner(log, show, ear, Mouth(synth, tape), tape)
            steps = read_script(places.shipped("demo_sessions") / SCRIPT)
            for step, following in zip(steps, [*steps[1:], None], strict=True):
                dinner.turn(step, following)
            dinner.put_away()
    finally:
        tape.close()
    return Outcome(
        spoken=len(steps), exact=dinner.exact, mended=dinner.mended, asked_back=dinner.asked_back,
        conversation_s=tape.duration_s, journal=path, replay=replay_command(home), wav=wav,
    )  # fmt: skip


@contextmanager
def ears(notice: Callable[[str], None]) -> Iterator[Ear]:
    """The real recogniser for tonight's names, listening with the cook in mind.

    Raises EarsError.
    """
    listening = Ears(TONIGHT, notice=notice)

    def ear(samples: Samples, session: Session) -> Heard:
        listening.prior, listening.context = session.prior, context_of(session.state)
        heard = listening.hear(samples)
        return heard_by_ear(heard, session.state)

    try:
        yield ear
    finally:
        listening.close()


def replay_command(home: Path) -> str:
    """The command that replays the demo's cook, from any folder."""
    program = "turnspit" if shutil.which("turnspit") else str(Path(sys.argv[0]).resolve())
    return f"XDG_DATA_HOME={shlex.quote(str(home))} {shlex.quote(program)} replay"


def summary(outcome: Outcome) -> tuple[str, ...]:
    """The last lines of the demo, for people."""
    return (
        f"Understood exactly: {outcome.exact} of {outcome.spoken} spoken lines"
        f" ({outcome.mended} mended by the cook, {outcome.asked_back} asked back).",
        f"Journal:      {outcome.journal}",
        f"Replay:       {outcome.replay}",
        f"Conversation: {outcome.wav} ({outcome.conversation_s / 60:.1f} min)",
    )


class Mouth:
    """The cook's voice in a room with a fan, also put on the tape."""

    def __init__(self, synth: Synth, tape: Tape) -> None:
        self._synth = synth
        self._tape = tape
        self._said = 0

    def say(self, words: str, *, again: bool = False) -> Samples:
        """The line as a microphone hears it, 16 kHz; said `again` it is slower."""
        self._said += 1
        speech = self._synth(words, SLOWER if again else WORDS_PER_MINUTE)
        sound = in_a_room(at_rate(speech, RATE_HZ), self._said)
        self._tape.add(Sound(sound, RATE_HZ))
        return sound


def in_a_room(speech: Samples, seed: int) -> Samples:
    """Speech with a fan's hum and rush under it, `ROOM_DB` below the speech; the same
    seed, the same noise."""
    rng = np.random.default_rng(seed)
    pause = np.zeros(round(QUIET_S * RATE_HZ))
    wave = np.concatenate([pause, speech.astype(np.float64), pause])
    spectrum = np.fft.rfft(rng.standard_normal(wave.size))
    hertz = np.fft.rfftfreq(wave.size, 1 / RATE_HZ)
    rush = np.fft.irfft(spectrum / np.sqrt(np.maximum(hertz, 50.0)), wave.size)  # pink
    hum = np.sin(2 * np.pi * 120.0 * np.arange(wave.size) / RATE_HZ)
    noise = rush / rush.std() + 0.3 * hum
    loud = np.sqrt(np.mean(np.square(speech.astype(np.float64))))
    noise *= loud * 10 ** (-ROOM_DB / 20) / noise.std()
    heard: Samples = np.clip(np.round(wave + noise), -32_768, 32_767).astype(np.int16)
    return heard


class Dinner:
    """One spoken cook: the session, its ears, and the person at the grill."""

    def __init__(
        self, log: CookLog, show: Callable[[Line], None], ear: Ear, mouth: Mouth, tape: Tape
    ) -> None:
        self.exact = self.mended = self.asked_back = 0
        self._clock = VirtualClock(START_S)
        self._session = Session(log, self._clock, tape, show)
        self._session.begin(ev.CookBegan(birds=3, name=NAME))
        self._ear = ear
        self._mouth = mouth

    def turn(self, step: Step, following: Step | None) -> None:
        """Say one line of the script; settle what comes of it before the next."""
        assert step.command is not None
        self._clock.run_until(START_S + step.at_s)
        open_before = self._session.state.pending
        facts = last_facts(self._session.state)
        heard = self._utter(step.words)
        self.exact += _is_exact(heard, step)
        pending = self._session.state.pending
        if pending is not None and pending is not open_before:
            self.asked_back += 1
            if following is None or not _answers(following.command, pending):
                self._answer(step, pending)
        elif not _is_exact(heard, step):
            self.mended += 1
            if last_facts(self._session.state) != facts:
                self._later("scratch that")
            self._say_again(step)

    def _answer(self, step: Step, pending: Pending) -> None:
        """Settle a question the script did not foresee, as a person would."""
        if step.command not in pending.options:
            self._later("no it isn't")
            self._say_again(step)
        elif len(pending.options) == 1:
            self._later("yes it is")
        else:
            self._later(PLACES[pending.options.index(step.command)])

    def _say_again(self, step: Step) -> None:
        for _ in range(TRIES):
            if _is_exact(self._later(step.words, again=True), step):
                return

    def put_away(self) -> None:
        """End a cook whose last words were not understood, by the keyboard."""
        for _ in range(2):  # again where it asks about a bird that is still on
            if self._session.state.is_running:
                self._session.hear(Heard("end cook", cmd.EndCook(), 1.0, "accept"))

    def _later(self, words: str, *, again: bool = False) -> Heard:
        self._clock.run_until(self._clock.now() + AGAIN_S)
        return self._utter(words, again=again)

    def _utter(self, words: str, *, again: bool = False) -> Heard:
        heard = self._ear(self._mouth.say(words, again=again), self._session)
        self._session.hear(heard)
        return heard


def _is_exact(heard: Heard, step: Step) -> bool:
    """Whether the line was taken, as it was meant, without a question."""
    return heard.outcome in {"accept", "stress"} and heard.command == step.command


def _answers(command: cmd.Command | None, pending: Pending) -> bool:
    """Whether a line of the script settles the open question."""
    bare = cmd.Number | cmd.Yes | cmd.No | cmd.Choose
    return isinstance(command, bare) or command in pending.options
