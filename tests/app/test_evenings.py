"""Five invented evenings, rehearsed: what is said, and how much of it unasked.

The transcripts are snapshots: a change in the forecaster or in a sentence shows here
as a change in what a cook hears. `pytest tests/app/test_evenings.py --snapshot-update`
after reading the difference.
"""

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from assistant.app.rehearse import read_script, rehearse
from assistant.cook.rules.due import Load, load
from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.session.line import Line
from assistant.session.log import MemoryLog
from assistant.voice.silent import SilentSpeaker

pytestmark = pytest.mark.slow  # three whole evenings of forecasts
SCRIPTS = Path(__file__).parents[2] / "demo_sessions"
EVENINGS = (
    "calm_evening", "late_and_troubled", "eight_hens", "family_dinner", "windy_supper",
)  # fmt: skip
TAKEN_BACK = ("back on time", "sooner than I said", "later than I said")


@dataclass(frozen=True)
class Rehearsed:
    lines: tuple[Line, ...]
    recorded: tuple[ev.Recorded, ...]
    state: Cook
    load: Load


@lru_cache(maxsize=len(EVENINGS))
def rehearsed(name: str) -> Rehearsed:
    lines: list[Line] = []
    log = MemoryLog()
    steps = read_script(SCRIPTS / f"{name}.txt")
    session = rehearse(steps, lines.append, SilentSpeaker(), log=log)
    return Rehearsed(tuple(lines), tuple(log.recorded), session.state, load(log.recorded))


def talk(lines: tuple[Line, ...]) -> str:
    """The conversation, to the minute."""
    told = []
    for line in lines:
        clock = f"{int(line.t // 3600)}:{int(line.t // 60 % 60):02d}"
        if line.kind == "heard":
            told.append(f"{clock}  cook  {line.fields['words']}")
        elif line.kind == "said":
            urgency = line.fields["urgency"]
            who = "      " if urgency == "reply" else f"[{urgency}]"
            told.append(f"{clock}  {who} {line.fields['text']}")
        elif line.kind == "refused":
            told.append(f"{clock}  missed {line.fields['words']}: {line.fields['reason']}")
    return "\n".join(told)


@pytest.mark.parametrize("name", EVENINGS)
def test_the_talk(name: str, snapshot: SnapshotAssertion) -> None:
    """What a cook hears that evening, and the count at its end."""
    found = rehearsed(name)
    assert talk(found.lines) == snapshot
    assert found.load.sentences >= 8


@pytest.mark.parametrize("name", EVENINGS)
def test_every_line_is_understood_and_every_bird_reaches_the_table(name: str) -> None:
    found = rehearsed(name)
    assert not [line for line in found.lines if line.kind == "refused"]
    assert found.state.birds
    assert all(bird.is_pulled for bird in found.state.birds)


@pytest.mark.parametrize("name", EVENINGS)
def test_the_journal_gives_the_same_state(name: str) -> None:
    found = rehearsed(name)
    assert fold(found.recorded) == found.state


@pytest.mark.parametrize("name", EVENINGS)
def test_a_cook_hears_at_most_four_unforced_prompts_an_hour(name: str) -> None:
    """Fewer than one in ten minutes, the published goal for steady alarms; never ten in
    ten; and none that a later one takes back."""
    found = rehearsed(name)
    assert found.load.unforced_per_hour <= 4.0
    assert found.load.most_in_ten_min < 10
    said = [str(line.fields["text"]) for line in found.lines if line.kind == "said"]
    assert not [text for text in said if any(words in text for words in TAKEN_BACK)]


@pytest.mark.parametrize("name", EVENINGS)
def test_nothing_claims_that_food_is_safe(name: str) -> None:
    """It says what was read and what the guidance is, never that it is safe to eat."""
    said = " ".join(
        str(x.fields["text"]).lower() for x in rehearsed(name).lines if x.kind == "said"
    )
    assert "safe" not in said


def test_trouble_is_answered_with_its_caution() -> None:
    said = talk(rehearsed("late_and_troubled").lines)
    for caution in ("hot metal", "never water on burning fat", "carbon monoxide", "hot fat"):
        assert caution in said
