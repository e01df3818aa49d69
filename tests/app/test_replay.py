"""A past cook again: the same words, any pace, from any moment."""

from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest

from assistant.app.rehearse import read_script, rehearse
from assistant.app.replay import moments, parse_moment, replay, scrub, view_at
from assistant.board.lines import facts
from assistant.board.view import BoardView
from assistant.cook.rules.fold import fold
from assistant.cook.vocabulary import events as ev
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.session.printing import json_text
from assistant.session.session import Session
from assistant.session.typed import heard_typed
from assistant.system.clock import VirtualClock
from assistant.voice.silent import SilentSpeaker
from assistant.voice.speech import Speech

# Where several facts came in one breath, each is heard by itself in a replay.
SCRIPTS = sorted(
    path
    for path in (Path(__file__).parents[2] / "demo_sessions").glob("*.txt")
    if path.stem != "own_words"
)
TALK = {"heard", "said", "event", "refused"}


@dataclass
class Mouth(SilentSpeaker):
    """Keeps what was to be said."""

    said: list[Speech] = field(default_factory=list)

    def say(self, speech: Speech) -> None:
        self.said.append(speech)


@cache
def rehearsed(script: Path) -> tuple[tuple[Line, ...], tuple[ev.Recorded, ...], tuple[Speech, ...]]:
    """The lines of a live session, its journal and its speech."""
    lines: list[Line] = []
    log, mouth = MemoryLog(), Mouth()
    rehearse(read_script(script), lines.append, mouth, log=log)
    return tuple(lines), tuple(log.recorded), tuple(mouth.said)


def family() -> tuple[ev.Recorded, ...]:
    return rehearsed(next(one for one in SCRIPTS if one.stem == "family_dinner"))[1]


def test_facts_of_one_breath_are_told_in_one_sentence() -> None:
    own = Path(__file__).parents[2] / "demo_sessions" / "own_words.txt"
    _, recorded, said = rehearsed(own)
    mouth = Mouth()
    replay(moments(recorded), lambda _: None, speaker=mouth)
    assert mouth.said == list(said)
    heard = [one for one in recorded if isinstance(one.event, ev.WordsHeard)]
    assert len({one.at_s for one in heard}) < len(heard)


def texts(lines: list[Line] | tuple[Line, ...]) -> list[str]:
    return [json_text(line) for line in lines if line.kind in TALK]


@pytest.mark.slow
@pytest.mark.parametrize("script", SCRIPTS, ids=lambda path: path.stem)
def test_a_replay_hears_records_and_says_what_the_evening_did(script: Path) -> None:
    live, recorded, said = rehearsed(script)
    again: list[Line] = []
    mouth = Mouth()
    replay(moments(recorded), again.append, speaker=mouth)
    assert texts(again) == texts(live)
    assert mouth.said == list(said)


def test_a_replay_ends_in_the_state_of_the_evening() -> None:
    steps = list(moments(family()))
    assert steps[-1].state == fold(family())
    assert steps[-1].seq == family()[-1].seq


def test_a_replay_from_a_moment_begins_there() -> None:
    shown: list[Line] = []
    replay(moments(family()), shown.append, from_s=parse_moment("1:30:00"))
    assert min(line.t for line in shown) >= 5400.0
    words = [line.fields["words"] for line in shown if line.kind == "heard"]
    assert words[0] == "bird one reads one thirty two"


@pytest.mark.parametrize("speed", [1.0, 60.0])
def test_pauses_are_those_of_the_evening_divided_by_the_speed(speed: float) -> None:
    slept: list[float] = []
    replay(moments(family()), lambda _: None, sleep=slept.append, speed=speed)
    took_s = family()[-1].at_s - family()[0].at_s
    assert sum(slept) == pytest.approx(took_s / speed)
    assert min(slept) >= 0.0


def test_each_speech_is_waited_for_before_the_next() -> None:
    order: list[str] = []
    mouth = Mouth()
    mouth.say = lambda speech: order.append("say")  # type: ignore[method-assign]  # a recorder
    replay(moments(family()), lambda _: None, speaker=mouth, settle=lambda: order.append("settled"))
    assert order[::2] == ["say"] * (len(order) // 2)
    assert order[1::2] == ["settled"] * (len(order) // 2)


def test_state_and_forecast_at_a_moment_are_as_they_were() -> None:
    view = view_at(family(), parse_moment("1:30:00"))
    assert view is not None
    told = facts(view)
    assert "131 F, 7 min ago, waits to go back on" in told["bird 2"]
    assert "118 F, 19 min ago, waits for done mark about" in told["bird 3"]
    assert view.forecast is not None
    later = view_at(family(), parse_moment("1:40:00"))
    assert later is not None
    assert later.forecast != view.forecast


def test_before_the_cook_there_is_nothing_to_show() -> None:
    assert view_at(family(), -1.0) is None
    assert view_at((), 100.0) is None


def test_scrubbing_goes_on_and_back_and_jumps_by_event() -> None:
    shown: list[Line] = []
    told: list[BoardView] = []
    keys = iter(["", "n", "b", "1:22:20", "s", "b", "q", "n"])
    scrub(family(), keys, shown.append, told.append)
    heard = [line.fields["words"] for line in shown if line.kind == "heard"]
    assert heard == [
        "fire is lit",
        "bird one weighs five pounds",
        "fire is lit",
        "bird two reads one thirty one",
        "how is the fire",
    ]
    assert [view.now_s - family()[0].at_s for view in told] == [4940.0]
    assert shown[-1].t < 4940.0


def test_scrubbing_shows_the_step_again_for_keys_it_does_not_know() -> None:
    shown: list[Line] = []
    scrub(family(), iter(["1:22:20", "help", "99"]), shown.append, lambda _: None)
    heard = [line.fields["words"] for line in shown if line.kind == "heard"]
    assert heard[-3:] == ["bird two reads one thirty one"] * 3


def test_scrubbing_past_the_end_stops() -> None:
    shown: list[Line] = []
    scrub(family(), iter(["9:00:00", "n", "n"]), shown.append, lambda _: None)
    assert shown[-1].fields["text"].startswith("Cook ended")  # type: ignore[attr-defined]  # text


@pytest.mark.parametrize("text", ["", "1", "0:61:00", "soon", "1:2:3:4", "-1:00"])
def test_a_moment_that_is_none_is_refused_with_how_to_write_it(text: str) -> None:
    with pytest.raises(ValueError, match=r"write it like 0:40:00"):
        parse_moment(text)


def test_moments_are_hours_minutes_seconds() -> None:
    assert [parse_moment(one) for one in ("0:40:00", "40:00", "1:00:01")] == [2400, 2400, 3601]


def test_words_the_grammar_no_longer_knows_still_replay_with_their_facts() -> None:
    recorded = (
        ev.Recorded(1, 0.0, ev.CookBegan()),
        ev.Recorded(2, 10.0, ev.WordsHeard("zwei ist drauf", 0.9, "accept", "birds_on")),
        ev.Recorded(3, 10.0, ev.BirdOn(2)),
        ev.Recorded(4, 20.0, ev.PromptSaid("never_heard_of:1", "soon")),
        ev.Recorded(5, 30.0, ev.WordsHeard("burrs", 0.1, "refuse")),
        ev.Recorded(6, 40.0, ev.Resumed(7.0)),
    )
    shown: list[Line] = []
    replay(moments(recorded), shown.append)
    assert [line.kind for line in shown] == [
        "event", "heard", "event", "said", "event", "said", "refused", "said", "event", "said",
    ]  # fmt: skip
    assert shown[5].fields["text"] == "Never heard of."


def test_two_misses_in_a_row_are_answered_by_the_same_example_as_then() -> None:
    live: list[Line] = []
    log, clock = MemoryLog(), VirtualClock(0.0)
    session = Session(log, clock, SilentSpeaker(), live.append)
    session.begin(ev.CookBegan())
    for seconds, words in enumerate(["burrs", "birch", "bark", "birds on", "burrs", "bur"], 1):
        clock.run_until(10.0 * seconds)
        session.hear(heard_typed(words, "F"))
    clock.close()
    again: list[Line] = []
    replay(moments(log.recorded), again.append)
    said = [[one.fields["text"] for one in lines if one.kind == "said"] for lines in (live, again)]
    assert said[0] == said[1]
    assert len(said[0]) >= 3  # an example, the read-back, another example


def test_a_heard_command_is_the_one_the_session_heard() -> None:
    heard = next(
        line
        for step in moments(family())
        for line in step.lines
        if line.fields.get("words") == "bird three thigh one sixty six"
    )
    assert heard.fields["command"] == "bird_reading"
    assert heard.fields["slots"]["spot"] == "thigh"  # type: ignore[index]  # JSON slots
