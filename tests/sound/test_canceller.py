"""The own voice taken out, in a simulated place, with drifting clocks and unknown delays."""

from dataclasses import replace

import numpy as np
import pytest

from assistant.grammar.grammar import ADDRESS
from assistant.sentences.sound import listening
from assistant.sound.canceller import FRAME, LEARNS_S, EchoFree, both
from assistant.sound.echo_filter import EchoFilter
from assistant.sound.microphone import Block
from assistant.sound.played import Played
from assistant.sound.samples import RATE_HZ
from assistant.sound.speech_chance import CHUNK, speech_chance
from tests.benchmarks.cancellers import Scene, cleaned, erle_db, scene
from tests.benchmarks.corpus import installed, say
from tests.benchmarks.corpus_commands import Spoken, commands
from tests.benchmarks.echo_room import KITCHEN, TERRACE, Path, Place, fire, heard

pytestmark = pytest.mark.skipif(not installed("slt"), reason="flite is not installed")


@pytest.fixture(scope="module")
def spoken() -> Spoken:
    return commands(1, ("slt",), 3)[0]


def place(spoken: Spoken, path: Path) -> Scene:
    if not installed("en-us"):
        pytest.skip("espeak-ng is not installed")
    return scene(spoken, path, 1)


@pytest.mark.parametrize("late_s", [0.01, 0.1])
@pytest.mark.parametrize("drift_ppm", [0.0, 100.0])
def test_speech_is_not_seen_in_its_own_voice_whatever_delay_and_drift(
    spoken: Spoken, late_s: float, drift_ppm: float
) -> None:
    one = place(spoken, Path(TERRACE, 0.0, late_s, drift_ppm))
    heard, judged = cleaned(both(), one)
    assert erle_db(one, judged) > 15
    assert erle_db(one, heard) > 8


def test_with_one_clock_the_filter_takes_out_most_of_it_and_leaves_the_cook_whole(
    spoken: Spoken,
) -> None:
    one = place(spoken, Path(KITCHEN, 0.0, 0.05, 0.0))
    heard, _ = cleaned(EchoFilter(), one)
    cook = one.microphone - one.echo
    both_speak = slice(one.alone.stop + RATE_HZ, one.alone.stop + 3 * RATE_HZ)
    harm = np.mean((heard[both_speak] - cook[both_speak]) ** 2)
    assert 10 * np.log10(np.mean(one.echo[both_speak] ** 2) / harm) > 12


def test_it_listens_through_its_own_voice_only_after_it_has_learned_the_room(
    spoken: Spoken,
) -> None:
    one = place(spoken, Path(TERRACE, 0.0, 0.05, 0.0))
    played = Played()
    free = EchoFree(both(), played)
    ready_s = None
    left = []
    for at in range(0, len(one.microphone), 512):
        end_s = 1000.0 + (at + 512) / RATE_HZ
        played.put(end_s - 512 / RATE_HZ + 0.03, one.played[at : at + 512])
        left.append(free(Block(one.microphone[at : at + 512], end_s)))
        if ready_s is None and free.is_ready:
            ready_s = (at + 512) / RATE_HZ
    assert ready_s is not None and LEARNS_S <= ready_s < 6.0
    assert sum(len(block.samples) for block in left) >= len(one.microphone) - 512 - FRAME
    free.forget()
    assert not free.is_ready


@pytest.mark.parametrize(
    ("where", "late_s", "drift_ppm", "over_db"),
    [(TERRACE, 0.045, 0.0, 0.0), (KITCHEN, 0.1, 50.0, 0.0), (TERRACE, 0.2, 0.0, 6.0),
     (KITCHEN, 0.03, -50.0, -6.0)],
)  # fmt: skip
def test_what_it_says_at_the_start_teaches_it_the_room(
    where: Place, late_s: float, drift_ppm: float, over_db: float
) -> None:
    """The first answer of the evening is listened through from its first word on, and nothing
    of it is taken for speech, though nobody had told how late the room is."""
    if not installed("en-us"):
        pytest.skip("espeak-ng is not installed")
    greeting = say(listening(ADDRESS, by_key=False, while_speaking=True).spoken, "en-us")
    answer = say("Fire lit. Outdoors only: charcoal gives off carbon monoxide.", "en-us")
    silence = np.zeros(RATE_HZ, np.int16)
    sound = np.concatenate([silence, greeting, silence, answer, silence])
    sound = sound[: len(sound) // FRAME * FRAME]
    near = heard(Path(where, over_db, late_s, drift_ppm).echo(sound), fire(len(sound), 35.0, 1))
    answers_from = 2 * RATE_HZ + len(greeting)
    played = Played()
    free, ready, judged = EchoFree(both(), played), list[bool](), list[np.ndarray]()
    for at in range(0, len(sound), FRAME):
        end_s = 1000.0 + (at + FRAME) / RATE_HZ
        played.put(end_s - FRAME / RATE_HZ, sound[at : at + FRAME])
        block = free(Block(near[at : at + FRAME], end_s))
        assert block.judged is not None
        judged.append(block.judged)
        ready += [free.is_ready] * len(block.judged)
    assert not ready[2 * RATE_HZ]
    assert ready[round(4.1 * RATE_HZ)]  # by hearing each sound once it takes longer
    assert all(ready[answers_from:])
    left = np.concatenate(judged)[answers_from:]
    vad = speech_chance()
    assert max(vad(one) for one in left[: len(left) // CHUNK * CHUNK].reshape(-1, CHUNK)) < 0.5


def test_without_its_own_voice_the_cook_is_heard_as_before(spoken: Spoken) -> None:
    one = place(spoken, Path(TERRACE, 0.0, 0.05, 0.0))
    cook = (one.microphone - one.echo).astype(np.int16)
    alone = replace(one, played=np.zeros_like(cook), microphone=cook, others=cook.astype(float))
    heard, judged = cleaned(both(), alone)
    assert np.array_equal(heard, cook)
    assert np.mean(judged.astype(float) ** 2) > 0.2 * np.mean(cook.astype(float) ** 2)
