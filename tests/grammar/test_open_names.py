"""Timers under any name: typed freely, and spoken once they run."""

import pytest

from assistant.cook.rules.fold import fold
from assistant.cook.state import Cook
from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.grammar.grammar import Names
from assistant.grammar.parse import NotUnderstood, parse
from assistant.live.hearing import names_of

TYPED = {
    "set a dumplings timer for 20 minutes": cmd.TimerSet(20.0, "dumplings"),
    "brussels sprouts timer for ten minutes": cmd.TimerSet(10.0, "brussels sprouts"),
    "remind me in 5 min about the stock": cmd.TimerSet(5.0, "stock"),
    "cancel the dumplings timer": cmd.TimerCancel("dumplings"),
    "rice timer for ten minutes": cmd.TimerSet(10.0, "rice"),
    "set a timer for ten minutes": cmd.TimerSet(10.0),
}


@pytest.mark.parametrize("words", TYPED)
def test_a_typed_timer_has_any_name(words: str) -> None:
    assert parse(words, Names(), open_names=True) == TYPED[words]


@pytest.mark.parametrize(
    "words", ["set a four five timer for ten minutes", "a b c d timer for ten minutes", "timer"]
)
def test_what_is_no_name_is_refused(words: str) -> None:
    with pytest.raises(NotUnderstood):
        parse(words, Names(), open_names=True)


def test_a_running_timer_can_be_spoken_of_by_its_name() -> None:
    """A side dish of the plan has its timer; tonight's grammar then knows the name."""
    cook = fold((ev.Recorded(1, 0.0, ev.CookBegan()),
                 ev.Recorded(2, 0.0, ev.TimerStarted(900.0, 15.0, "dumplings")),
                 ev.Recorded(3, 0.0, ev.TimerStarted(900.0, 15.0, "rice"))), Cook())  # fmt: skip
    names = names_of(cook)
    assert names.timers == ("dumplings",)
    assert parse("cancel the dumplings timer", names) == cmd.TimerCancel("dumplings")
    with pytest.raises(NotUnderstood):
        parse("cancel the dumplings timer", Names())
