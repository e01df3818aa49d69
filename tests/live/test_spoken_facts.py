"""A breath of several facts, spoken aloud and typed: the same record, the same questions."""

from collections.abc import Iterator

import pytest

from assistant.cook.vocabulary import events as ev
from assistant.ears.ears import Ears
from assistant.ears.endpointer import spoken_span
from assistant.grammar.grammar import Names
from assistant.live.hearing import LiveEars
from assistant.session.log import MemoryLog
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker
from tests.benchmarks.corpus import say, voices

VOICES = voices(("slt", "awb", "en-us"))
pytestmark = [pytest.mark.slow, pytest.mark.skipif(not VOICES, reason="needs flite or espeak-ng")]
TOLD = ("bird one weighs four pounds", "bird two weighs five pounds", "bird one gets apricot",
        "bird two gets harissa", "birds on", "bird one reads one hundred")  # fmt: skip
NOT_THE_WORDS = (ev.WordsHeard,)


@pytest.fixture(scope="module")
def ears() -> Iterator[Ears]:
    made = Ears(Names(2, ("apricot", "harissa")))
    yield made
    made.close()


def session() -> tuple[Session, MemoryLog]:
    """Forty minutes into a cook of two birds."""
    log, clock = MemoryLog(), VirtualClock(1_790_000_000.0)
    one = Session(log, clock, SilentSpeaker(), lambda _line: None)
    one.begin(ev.CookBegan(birds=2))
    for words in TOLD:
        one.hear(heard_typed(words, "F", one.state))
    clock.run_until(clock.now() + 2400.0)
    return one, log


def recorded(log: MemoryLog) -> list[object]:
    return [one.event for one in log.recorded if not isinstance(one.event, NOT_THE_WORDS)]


@pytest.mark.parametrize(
    "breath",
    [
        "bird one one eighteen bird two one nineteen and i put eight on",
        "the harissa bird's at one twenty and the lid's on",
        "the big one's at one fourteen and the grill's at three fifty",
        "this one's at one sixteen",  # bird one was read last
        "just read one twenty",  # which bird?
        "no bird two",
    ],
)
def test_a_breath_spoken_is_recorded_as_it_would_be_typed(ears: Ears, breath: str) -> None:
    by_hand, typed = session()
    by_hand.hear(heard_typed(breath, "F", by_hand.state))
    for voice in VOICES:
        by_ear, spoken = session()
        live = LiveEars(ears, by_ear.state, pytest.fail)
        ears.prior = by_ear.prior
        sound = say(f"turnspit {breath}", voice)
        by_ear.hear(live.hear(sound[spoken_span(sound)], free=False))
        assert recorded(spoken) == recorded(typed), voice
        assert by_ear.state.pending == by_hand.state.pending
