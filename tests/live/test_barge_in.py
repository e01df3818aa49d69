"""A command said over the program's own voice, through the real recogniser."""

import pytest

from assistant.ears.ears import Ears
from assistant.sound.canceller import both
from tests.benchmarks.cancellers import cleaned, scene, turns
from tests.benchmarks.corpus import installed
from tests.benchmarks.corpus_commands import TONIGHT, commands
from tests.benchmarks.echo_room import TERRACE, Path


@pytest.mark.slow
@pytest.mark.skipif(not installed("slt") or not installed("en-us"), reason="voices are missing")
@pytest.mark.timeout(300)
def test_a_reading_said_over_a_prompt_as_loud_is_heard_and_the_prompt_itself_never() -> None:
    spoken = commands(1, ("slt",), 3)[0]
    one = scene(spoken, Path(TERRACE, 0.0, 0.06, 0.0), 1)
    left, judged = cleaned(both(), one)
    end = one.alone.stop
    ears = Ears(TONIGHT)
    try:
        assert turns(ears, left[:end], judged[:end]) == []
        assert turns(ears, one.microphone[end:], one.microphone[end:]) == []  # lost without it
        said = turns(ears, left[end:], judged[end:])
    finally:
        ears.close()
    assert [heard.command for heard in said] == [spoken.command]
