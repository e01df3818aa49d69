"""Answers, mending, putting off, volume and sleep: what each of them records."""

import pytest

from assistant.cook.rules.decide import decide
from assistant.cook.rules.decision import AskBack, Decision, Record
from assistant.cook.rules.due import due
from assistant.cook.vocabulary import answers as ans
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary import refusals as no
from tests.cook.build import START_S, Evening, evening, insisted

ON = ((0.0, "birds on"), (1.0, "set a rice timer for ten minutes"))


def tell(one: Evening, minute: float, command: cmd.Command) -> Decision:
    """A command that the grammar need not have; recorded where it records."""
    decision = decide(one.state, command, START_S + 60 * minute)
    if isinstance(decision, Record):
        one.note(minute, *decision.events)
    return decision


@pytest.fixture
def called() -> Evening:
    """The rice timer was called at minute eleven."""
    one = evening(*ON, birds=2)
    now_s = START_S + 11 * 60
    ready = [prompt for prompt in due(one.state, now_s) if prompt.kind == "timer"]
    assert len(ready) == 1
    one.note(11, ev.PromptSaid(ready[0].key, ready[0].urgency))
    return one


def test_done_settles_what_was_called_last_and_only_once(called: Evening) -> None:
    first = tell(called, 11.5, cmd.Acknowledge())
    assert isinstance(first, Record)
    assert isinstance(first.events[0], ev.PromptAcknowledged)
    assert isinstance(tell(called, 12, cmd.Acknowledge()), ans.NothingOpen)


@pytest.mark.parametrize(("minutes", "until"), [(None, 5.0), (12.0, 12.0)])
def test_a_call_that_is_put_off_comes_again_then(
    called: Evening, minutes: float | None, until: float
) -> None:
    decision = tell(called, 11.5, cmd.Snooze(minutes))
    assert isinstance(decision, Record)
    (snoozed,) = decision.events
    assert isinstance(snoozed, ev.PromptSnoozed)
    assert snoozed.until_s == START_S + 60 * (11.5 + until)
    before, after = (START_S + 60 * (11.5 + until + by) for by in (-0.5, 0.1))
    assert "timer" not in {one.kind for one in due(called.state, before)}
    assert "timer" in {one.kind for one in due(called.state, after)}


@pytest.mark.parametrize("minutes", [0.0, -3.0, 25 * 60.0])
def test_nothing_is_put_off_into_the_past_or_for_days(called: Evening, minutes: float) -> None:
    assert isinstance(tell(called, 11.5, cmd.Snooze(minutes)), no.Minutes)


def test_where_nothing_is_called_nothing_is_put_off() -> None:
    assert isinstance(tell(evening(*ON), 2, cmd.Snooze()), ans.NothingOpen)


def test_the_volume_stays_within_its_steps() -> None:
    one = evening(*ON)
    for _ in range(9):
        tell(one, 2, cmd.Louder())
    assert one.state.volume == 5
    for _ in range(20):
        tell(one, 3, cmd.Quieter())
    assert one.state.volume == -5


def test_asleep_until_woken() -> None:
    one = evening(*ON)
    tell(one, 2, cmd.Sleep())
    assert one.state.asleep
    tell(one, 3, cmd.Wake())
    assert not one.state.asleep


def test_a_no_right_after_a_fact_takes_it_back_and_later_does_not() -> None:
    one = evening(*ON)
    one.say(5, "lid off")
    soon = decide(one.state, cmd.No(), START_S + 5 * 60 + 10)
    assert isinstance(soon, Record)
    assert [type(event) for event in soon.events] == [ev.Undone]
    assert isinstance(decide(one.state, cmd.No(), START_S + 6 * 60), ans.NothingAsked)


def test_a_no_after_other_words_is_not_about_the_fact() -> None:
    one = evening(*ON)
    one.say(5, "lid off")
    one.note(5.1, ev.WordsHeard("which sauces", 1.0, "accept"))
    assert isinstance(decide(one.state, cmd.No(), START_S + 5 * 60 + 10), ans.NothingAsked)


def test_a_reading_of_the_wrong_bird_moves_to_the_right_one() -> None:
    one = evening(*ON, (40, "bird one reads 100"), birds=2)
    if one.state.pending is not None:
        one.say(40, "yes")
    decision = decide(one.state, cmd.Correct(bird=2), START_S + 41 * 60)
    assert isinstance(decision, Record)
    assert [type(event) for event in decision.events] == [ev.Undone, ev.BirdRead]
    one.note(41, *decision.events)
    readings = {bird.number: [read.temperature_f for read in bird.readings]
                for bird in one.state.birds}  # fmt: skip
    assert readings == {1: [], 2: [100.0]}


def test_a_correction_is_as_hard_to_believe_as_a_reading() -> None:
    one = insisted((0, "birds on"), (50, "bird one reads 100"), (60, "bird one reads 108"), birds=1)
    wild = cmd.Correct(200.0, cmd.Said(200, "F"))
    decision = decide(one.state, wild, START_S + 61 * 60)
    assert isinstance(decision, AskBack)
    assert all(isinstance(option, cmd.Correct) for option in decision.options)


def test_nothing_read_nothing_to_correct_and_nothing_told_nothing_to_undo() -> None:
    empty = Evening()
    said = cmd.Said(120, "F")
    assert isinstance(tell(empty, 1, cmd.Correct(120.0, said)), no.NothingToCorrect)
    assert isinstance(tell(empty, 1, cmd.Correct(bird=2)), no.NothingToCorrect)
    assert isinstance(tell(empty, 1, cmd.Undo()), no.NothingToUndo)


def test_a_cook_that_runs_is_not_started_twice() -> None:
    assert isinstance(tell(evening(*ON), 2, cmd.StartCook()), ans.Already)
