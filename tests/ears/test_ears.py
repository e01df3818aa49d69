"""Who is asked, who is waited for: scripted listeners in real child processes."""

from collections.abc import Iterator

import pytest

from assistant.cook.commands import BirdReading
from assistant.ears import ears as module
from assistant.ears.ears import Ears
from assistant.grammar.grammar import Names
from tests.ears.scripted import (
    DYING,
    HANGING,
    QUICK,
    SLOW,
    SURE,
    TALK,
    THIRTEEN,
    TORN,
    ScriptedEngine,
    ScriptedJudge,
    UnmakeableJudge,
    sound,
)


@pytest.fixture
def ears(monkeypatch: pytest.MonkeyPatch) -> Iterator[Ears]:
    monkeypatch.setattr(module, "Engine", ScriptedEngine)
    monkeypatch.setattr(module, "Judge", ScriptedJudge)
    monkeypatch.setattr(module, "find_model", lambda: None)
    made = Ears(Names(3, ("apricot",)), engine="sphinx")
    yield made
    made.close()


def test_what_the_second_listener_is_sure_of_does_not_wait_for_the_first(ears: Ears) -> None:
    heard = ears.hear(sound(SURE, HANGING))
    assert isinstance(heard.command, BirdReading)
    assert heard.command.temperature == 130
    assert heard.outcome in ("accept", "stress")


def test_where_the_second_is_torn_the_first_settles_it(ears: Ears) -> None:
    evidence = ears.listen(sound(TORN, QUICK))
    assert evidence.asked != "not"
    heard = ears.decide(evidence)
    assert isinstance(heard.command, BirdReading)
    assert heard.command.temperature == 113


def test_a_choice_for_fitting_asks_everybody(ears: Ears) -> None:
    evidence = ears.listen(sound(SURE, QUICK), lambda _evidence: False)
    assert evidence.asked == "closely"
    assert len(evidence.hypotheses) == 2


def test_an_answer_to_the_last_utterance_is_never_taken_for_this_one(ears: Ears) -> None:
    """The first listener is still at work on bird one when bird three is heard."""
    assert ears.listen(sound(SURE, SLOW, bird=1)).asked == "not"
    later = ears.listen(sound(TORN, QUICK, bird=3))
    assert {h.words for h in later.hypotheses} == {"bird three reads one thirteen"}


def test_work_nobody_waits_for_does_not_delay_the_next_sure_command(ears: Ears) -> None:
    ears.hear(sound(SURE, HANGING))
    evidence = ears.listen(sound(SURE, QUICK))
    assert evidence.asked == "not"


def test_a_dead_first_listener_leaves_the_choice_to_the_second(ears: Ears) -> None:
    evidence = ears.listen(sound(TORN, DYING))
    assert (evidence.asked, evidence.hypotheses) == ("not", ())
    heard = ears.decide(evidence)
    assert isinstance(heard.command, BirdReading)
    assert heard.outcome == "ask"
    assert ears.listen(sound(TORN, QUICK)).asked != "not"


def test_work_done_ahead_is_never_waited_for(ears: Ears) -> None:
    ears.hear_ahead(sound(SURE, HANGING))
    ears.hear_ahead(sound(SURE, HANGING))
    assert ears.listen(sound(SURE, QUICK)).asked == "not"


def test_work_done_ahead_does_not_become_an_answer(ears: Ears) -> None:
    ears.hear_ahead(sound(TORN, QUICK, bird=1))
    heard = ears.listen(sound(TORN, QUICK, bird=3)).hypotheses
    assert {h.words for h in heard} == {"bird three reads one thirteen"}


def test_an_answer_nobody_wants_is_not_waited_for(ears: Ears) -> None:
    evidence = ears.listen(sound(TORN, HANGING), wanted=lambda: False)
    assert evidence.asked == "not"


def test_speech_like_no_command_is_refused(ears: Ears) -> None:
    assert ears.hear(sound(TALK, QUICK)).outcome == "refuse"


def test_a_second_listener_that_cannot_be_made_is_told_of_once_and_left_out(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(module, "Engine", ScriptedEngine)
    monkeypatch.setattr(module, "Judge", UnmakeableJudge)
    monkeypatch.setattr(module, "find_model", lambda: None)
    told: list[str] = []
    ears = Ears(Names(3, ("apricot",)), engine="sphinx", notice=told.append)
    heard = [ears.hear(sound(SURE, QUICK)).words for _ in range(2)]
    ears.close()
    assert heard == [THIRTEEN, THIRTEEN]
    assert told == ["the file is damaged; install it again"]
    assert not ears.has_judge
