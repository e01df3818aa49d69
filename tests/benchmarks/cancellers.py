"""Echo cancellers beside each other: `python -m tests.benchmarks.cancellers`.

In a simulated place (echo_room.py), with drifting clocks and an unknown delay, the program
speaks; then a cook says a command into its speech. Printed of each library: echo return loss
enhancement (how much less of the own voice is left, in decibels, while nobody else speaks),
commands heard at several levels of the own voice over the cook's, what was heard of the own
voice alone, and the processor it takes. What is cleaned goes through the cutting and the
recogniser of a live cook.
"""

import argparse
import random
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from assistant.ears.ears import Ears
from assistant.ears.heard import Heard
from assistant.grammar.grammar import ADDRESS
from assistant.live.cut import Piece, pieces
from assistant.live.cut_in import CutIn
from assistant.live.outlook import is_meant, outlook_of
from assistant.live.utterance import CHUNK, CHUNK_S, Pauses, Utterance
from assistant.sound.canceller import FRAME, Canceller, Pair, both, webrtc
from assistant.sound.echo_filter import EchoFilter
from assistant.sound.player import DUCK_DB
from assistant.sound.samples import RATE_HZ, Samples
from assistant.sound.speech_chance import speech_chance
from tests.benchmarks.corpus import Wave, say, voices
from tests.benchmarks.corpus_commands import TONIGHT, Spoken, commands
from tests.benchmarks.echo_room import PLACES, Path, fire, heard

OWN_VOICE = "en-us"
OWN = (
    "Bird two has been over the fire for fifty minutes. Check the breast and the thigh.",
    "Bird one looks done in about twenty minutes, around ten past seven.",
    "Added twelve briquettes. The grill reads three hundred and seventy.",
    "Glaze bird three with harissa now. Hot metal: wear your gloves.",
    "The fire is falling. Add a dozen briquettes and open the bottom vent by a third.",
)
"""What it says meanwhile, in turn: invented, in the manner of its prompts."""
COOKS = ("joe", "slt", "rms", "awb", "kal16")
LEVELS_DB = (-10.0, 0.0, 10.0)
DRIFTS_PPM = (-100.0, 0.0, 50.0, 100.0)
NOISE_DB = 35.0
DUCKS_S = 0.1  # from a block of the microphone to the voice turned down: both devices' buffers
INTO_S = 1.0  # the cook begins this long after the program did
GAP = RATE_HZ
BLOCK = 3 * FRAME


class Speex:
    """SpeexDSP's filter with its preprocessor, through pyaec: a quarter second long."""

    def __init__(self) -> None:
        import pyaec

        self._filter = pyaec.Aec(FRAME, RATE_HZ // 4, RATE_HZ, True)

    def process(self, near: Samples, far: Samples) -> Samples:
        """What is left of `near`."""
        done: list[int] = []
        for at in range(0, len(near), FRAME):
            frame = slice(at, at + FRAME)
            done += self._filter.cancel_echo(near[frame].tolist(), far[frame].tolist())
        return np.array(done, np.int16)


class Nothing:
    """No canceller."""

    def process(self, near: Samples, far: Samples) -> Samples:
        """All of `near`."""
        return near


CANCELLERS: dict[str, Callable[[], Canceller | Pair]] = {
    "none": Nothing,
    "WebRTC AEC3 (pywebrtc-audio)": webrtc,
    "SpeexDSP (pyaec)": Speex,
    "Kalman filter in numpy": EchoFilter,
    "both: the filter, judged by AEC3": both,
}


@dataclass
class Row:
    """What one canceller did."""

    erle_db: list[float] = field(default_factory=list)
    right: dict[float, int] = field(default_factory=dict)
    tried: dict[float, int] = field(default_factory=dict)
    by_itself: int = 0
    cpu_s: float = 0.0
    sound_s: float = 0.0


@dataclass(frozen=True, slots=True)
class Scene:
    """What is played and what reaches the microphone; `alone` is where only the own voice
    sounds, after it was learned. `others`: what else sounds there."""

    played: Samples
    echo: Wave
    microphone: Samples
    alone: slice
    others: Wave
    path: Path

    def ducked(self, from_place: int) -> "Scene":
        """The same with its own voice turned down from there on, as the player does it."""
        turned = self.played.astype(float)
        turned[from_place:] *= 10 ** (DUCK_DB / 20)
        played = turned.astype(np.int16)
        echo = self.path.echo(played, at_full=self.played)
        return replace(self, played=played, echo=echo, microphone=heard(echo, self.others))


def scene(spoken: Spoken, path: Path, number: int) -> Scene:
    """Two prompts to learn from, the second of them measured; then one spoken into."""
    prompts = [say(OWN[(number + n) % len(OWN)], OWN_VOICE) for n in range(3)]
    parts = [np.pad(prompt, (0, GAP)) for prompt in prompts]
    begins = np.cumsum([0, *(len(part) for part in parts)])
    command = say(f"{ADDRESS} {spoken.words}", spoken.voice)
    at = int(begins[2]) + round(INTO_S * RATE_HZ)
    length = max(int(begins[3]), at + len(command)) + 2 * RATE_HZ
    length -= length % FRAME
    played = np.pad(np.concatenate(parts), (0, max(0, length - int(begins[3]))))[:length]
    voice = np.zeros(length, np.int16)
    voice[at : at + len(command)] = command
    echo = path.echo(played)
    others = path.voice(voice) + fire(length, NOISE_DB, number)
    alone = slice(int(begins[1]), int(begins[2]))
    return Scene(played, echo, heard(echo, others), alone, others, path)


def cleaned(canceller: Canceller | Pair, scene: Scene) -> tuple[Samples, Samples]:
    """The microphone without the echo, block by block as it comes live: what is heard, and
    by what it is judged whether anybody speaks. Its own voice is turned down for whoever
    speaks into it, as soon as that can be heard in the room."""
    heard, judged = list[Samples](), list[Samples]()
    cut_in = _CutIn()
    for at in range(0, len(scene.microphone), BLOCK):
        part = slice(at, at + BLOCK)
        left = canceller.process(scene.microphone[part], scene.played[part])
        pair = left if isinstance(left, tuple) else (left, left)
        heard.append(pair[0])
        judged.append(pair[1])
        if cut_in.begins(pair[1], sounds=at > scene.alone.stop):
            scene = scene.ducked(at + BLOCK + round(DUCKS_S * RATE_HZ))
    return np.concatenate(heard), np.concatenate(judged)


class _CutIn:
    """Watches for whoever speaks into the last prompt, as the listener does (listener.py)."""

    def __init__(self) -> None:
        self._vad, self._utterance, self._over = speech_chance(), Utterance(Pauses()), CutIn()
        self._rest: Samples = np.zeros(0, np.int16)
        self._began = False

    def begins(self, judged: Samples, *, sounds: bool) -> bool:
        """Whether it begins here to have been spoken into."""
        samples = np.concatenate([self._rest, judged])
        whole = len(samples) // CHUNK * CHUNK
        self._rest = samples[whole:]
        for chunk in samples[:whole].reshape(-1, CHUNK):
            self._utterance.add(chunk, self._vad(chunk))
            speaks = self._utterance.is_speech and self._utterance.pause_s == 0
            self._over.add(CHUNK_S, speaks=speaks, sounds=sounds)
            if self._utterance.is_over:
                self._utterance.clear()
                self._over = CutIn()
        was, self._began = self._began, self._began or self._over.is_cut_in
        return self._began and not was


def erle_db(scene: Scene, left: Samples) -> float:
    """Echo return loss enhancement where only the own voice sounds. What is left holds the
    fire's noise too, so this is a lower bound."""
    echo = scene.echo[scene.alone]
    there = np.convolve(np.abs(echo) > 100, np.ones(RATE_HZ // 20), "same") > 0
    before = float(np.mean(echo[there] ** 2))
    after = float(np.mean(left[scene.alone][there].astype(float) ** 2))
    return 10 * float(np.log10(before / max(after, 1e-9)))


def turns(ears: Ears, samples: Samples, judged: Samples) -> list[Heard]:
    """What a live cook would react to in it."""

    def hear(part: Samples, follows: bool) -> Heard:
        del follows  # nothing follows in a breath where the program speaks (listener.py)
        return ears.hear(part, address_required=True)

    found: list[Piece] = list(
        pieces(samples, hear, lambda one: outlook_of(one, TONIGHT), judged=judged)  # type: ignore[arg-type]
    )
    return [
        one.heard
        for one in found
        if one.heard.outcome != "refuse" or is_meant(one.heard, free=False)
    ]


def measure(
    count: int,
    names: list[str],
    levels_db: Sequence[float] = LEVELS_DB,
    drifts_ppm: Sequence[float] = DRIFTS_PPM,
    seed: int = 5,
) -> dict[str, Row]:
    """All cancellers over the same scenes: places, levels and drifts in turn."""
    rng = random.Random(seed)
    script = commands(count, voices(COOKS), seed)
    rows = {name: Row() for name in names}
    ears = Ears(TONIGHT, engine="whisper")
    try:
        for number, spoken in enumerate(script):
            for over_db in levels_db:
                late_s, drift_ppm = rng.uniform(0.01, 0.12), rng.choice(drifts_ppm)
                path = Path(PLACES[number % len(PLACES)], over_db, late_s, drift_ppm)
                one = scene(spoken, path, number)
                for name, row in rows.items():
                    is_right, said = _try(row, CANCELLERS[name](), one, spoken, over_db, ears)
                    if not is_right:
                        print(f"{name}: {spoken.voice}: {spoken.words}: {said}", file=sys.stderr)
    finally:
        ears.close()
    return rows


def _try(
    row: Row, canceller: Canceller | Pair, scene: Scene, spoken: Spoken, over_db: float, ears: Ears
) -> tuple[bool, list[tuple[object, ...]]]:
    """Whether the command was taken, and what was answered."""
    began_s = time.process_time()
    left, judged = cleaned(canceller, scene)
    row.cpu_s += time.process_time() - began_s
    row.sound_s += len(left) / RATE_HZ
    row.erle_db.append(erle_db(scene, left))
    end = scene.alone.stop
    alone = turns(ears, left[:end], judged[:end])
    answers = turns(ears, left[end:], judged[end:])
    right = [one for one in answers if one.command == spoken.command and one.outcome != "ask"]
    row.right[over_db] = row.right.get(over_db, 0) + bool(right)
    row.tried[over_db] = row.tried.get(over_db, 0) + 1
    row.by_itself += len(alone)
    return bool(right), [(one.outcome, one.words, one.reason) for one in answers]


def main() -> None:
    """Print the table."""
    parser = argparse.ArgumentParser(description=__doc__.partition("\n")[0])
    parser.add_argument("--count", type=int, default=20, help="commands, each at every level")
    parser.add_argument("--only", choices=list(CANCELLERS), action="append")
    parser.add_argument("--levels", type=float, nargs="+", default=LEVELS_DB, help="decibels")
    parser.add_argument("--drifts", type=float, nargs="+", default=DRIFTS_PPM, help="in a million")
    parser.add_argument("--seed", type=int, default=5, help="of commands, delays and drifts")
    asked = parser.parse_args()
    levels_db = asked.levels
    rows = measure(asked.count, asked.only or list(CANCELLERS), levels_db, asked.drifts, asked.seed)
    levels = " | ".join(f"own voice {level:+.0f} dB" for level in levels_db)
    print(f"| canceller | ERLE, median (least) | {levels} | answered itself | processor |")
    print("|---" * (len(levels_db) + 4) + "|")
    for name, row in rows.items():
        right = " | ".join(f"{row.right[level]} of {row.tried[level]}" for level in levels_db)
        erle = f"{np.median(row.erle_db):.0f} ({np.min(row.erle_db):.0f}) dB"
        cost = 100 * row.cpu_s / row.sound_s
        print(f"| {name} | {erle} | {right} | {row.by_itself} | {cost:.1f} % |")


if __name__ == "__main__":
    main()
