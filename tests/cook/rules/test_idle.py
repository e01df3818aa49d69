"""What would change nothing now is rarely meant: the ears are told so, by the same state that
decides. Each row is a command, and whether it is idle once the words before it were said."""

import pytest

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import Record
from assistant.cook.rules.prior import log_prior
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from tests.cook.build import START_S, evening

NEW: tuple[tuple[float, str], ...] = ()
ON = ((0.0, "bird one on"), (0.0, "bird two on"))
OFF = (*ON, (30.0, "bird one is off"), (31.0, "bird two is off"))
NOW_S = START_S + 40 * 60

ROWS: list[tuple[tuple[tuple[float, str], ...], cmd.Command, bool]] = [
    (ON, cmd.BirdsOn(1), True),
    (ON, cmd.BirdsOn(3), False),
    (OFF, cmd.BirdsOn(1), False),
    (NEW, cmd.BirdsOff(1), True),
    (ON, cmd.BirdsOff(1), False),
    (ON, cmd.BirdsOff(None), False),
    (OFF, cmd.Rest(1), True),
    (ON, cmd.Rest(1), False),
    (NEW, cmd.Sauced(None), True),
    (ON, cmd.Sauced(None), False),
    (NEW, cmd.Sauced(1), True),
    (ON, cmd.Sauced(1), False),
    (ON, cmd.Carve(1), True),
    (OFF, cmd.Carve(1), False),
    (OFF, cmd.Carve(None), False),
    (ON, cmd.LidOn(), True),
    (ON, cmd.LidOff(), False),
    ((*ON, (5.0, "lid off")), cmd.LidOff(), True),
    ((*ON, (5.0, "lid off")), cmd.LidOn(), False),
    (ON, cmd.Wake(), True),
    ((*ON, (5.0, "go to sleep")), cmd.Wake(), False),
    (ON, cmd.StartCook(), True),
    (ON, cmd.TimerCancel(), True),
    ((*ON, (5.0, "remind me in ninety minutes")), cmd.TimerCancel(), False),
    (ON, cmd.Acknowledge(), True),
    (ON, cmd.Snooze(), True),
]


def state_of(said: tuple[tuple[float, str], ...]) -> Cook:
    return evening(*said, birds=3).state


@pytest.mark.parametrize(("said", "command", "is_idle"), ROWS, ids=str)
def test_an_idle_command_is_less_to_be_expected_than_one_that_acts(
    said: tuple[tuple[float, str], ...], command: cmd.Command, is_idle: bool
) -> None:
    prior = log_prior(state_of(said), command, NOW_S)
    acts = log_prior(state_of(said), cmd.FuelAdded(6.0), NOW_S)
    assert (prior < acts - 3.0) is is_idle


@pytest.mark.parametrize(
    ("said", "command"), [(said, command) for said, command, is_idle in ROWS if is_idle], ids=str
)
def test_what_is_called_idle_changes_no_fact_of_the_cook(
    said: tuple[tuple[float, str], ...], command: cmd.Command
) -> None:
    decision = decide(state_of(said), command, NOW_S)
    if isinstance(decision, Record):
        assert isinstance(command, cmd.Wake), "it only answers that it listens"


@pytest.mark.parametrize(
    ("said", "command"),
    [(said, one) for said, one, is_idle in ROWS if not is_idle],
    ids=str,
)
def test_what_is_not_called_idle_is_taken_or_asked_about(
    said: tuple[tuple[float, str], ...], command: cmd.Command
) -> None:
    decision = decide(state_of(said), command, NOW_S)
    assert isinstance(decision, Record) or hasattr(decision, "options")


def test_a_bird_beyond_tonights_is_hardly_meant() -> None:
    state = state_of(ON)
    for known, beyond in ((cmd.BirdSauce(3, "plain"), cmd.BirdSauce(4, "plain")),
                          (cmd.BirdWeight(3, 4.0), cmd.BirdWeight(7, 4.0))):  # fmt: skip
        assert log_prior(state, known, NOW_S) > log_prior(state, beyond, NOW_S) + 4.0


def test_a_temperature_that_no_meat_has_is_hardly_meant() -> None:
    state = state_of(ON)
    hot = cmd.BirdReading(1, 320.0, cmd.Said(320, "F"))
    assert log_prior(state, hot, NOW_S) < -12.0


def test_a_list_that_is_open_expects_its_words() -> None:
    closed = state_of(ON)
    opened = evening(*ON, (5.0, "read the list"), birds=3).state
    assert opened.readiness is not None
    for command in (cmd.ItemDone(), cmd.ItemSkip(), cmd.ItemBack()):
        assert log_prior(opened, command, NOW_S) > log_prior(closed, command, NOW_S) + 5.0
