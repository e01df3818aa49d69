"""The demo's evening in a stranger's words: every fact of it is recorded."""

from pathlib import Path

import pytest

from assistant.app.rehearse import read_script, rehearse
from assistant.session.line import Line
from assistant.voice.silent import SilentSpeaker

SCRIPT = Path(__file__).parents[2] / "demo_sessions" / "own_words.txt"
pytestmark = pytest.mark.slow  # a whole evening of forecasts


def test_a_strangers_evening_is_recorded_whole() -> None:
    lines: list[Line] = []
    state = rehearse(read_script(SCRIPT), lines.append, SilentSpeaker()).state
    assert [bird.sauce for bird in state.birds] == ["apricot", "harissa", "plain"]
    assert [[one.temperature_f for one in bird.readings] for bird in state.birds] == [
        [92, 112, 132, 166, 169],
        [96, 122, 131, 168, 166],
        [104, 169, 166],
    ]
    assert all(bird.is_done and not bird.is_on for bird in state.birds)
    assert [one.count for one in state.fire.fuel] == [30, 20]
    assert [len(bird.sauced_s) for bird in state.birds] == [1, 1, 0]
    assert state.ended_s is not None
    refused = [line.fields["words"] for line in lines if line.kind == "refused"]
    assert refused == []
