"""A reading that contradicts is a fact at once, in doubt until it is settled."""

import pytest

from assistant.cook.rules.decision import AskBack, Record
from assistant.cook.rules.due import due, prompts
from assistant.cook.rules.fold import fold
from assistant.cook.state import Bird
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.refusals import TooManyTimers
from assistant.sentences import all as sentences
from tests.cook.build import START_S, Evening, insisted

DONE = ((0.0, "birds on"), (40.0, "grill is 370"), (85.0, "bird one breast 166"),
        (85.5, "bird one thigh 167"))  # fmt: skip


def done() -> Evening:
    one = insisted(*DONE, birds=1)
    assert kinds(one) >= {"take_off"}
    return one


def bird(one: Evening) -> Bird:
    found = one.state.bird(1)
    assert found is not None
    return found


def kinds(one: Evening) -> set[str]:
    return {prompt.kind for prompt in prompts(one.state)}


def test_a_contradicting_reading_holds_back_what_it_could_contradict() -> None:
    """Asked "150 or 160?", it no longer says that both spots are at the mark."""
    one = done()
    assert isinstance(one.say(86, "bird one breast reads 150"), AskBack)
    assert not bird(one).is_done
    assert "take_off" not in kinds(one)
    assert not any(prompt.kind == "take_off" for prompt in due(one.state, START_S + 86.5 * 60))


def test_unanswered_it_stays_and_is_asked_for_again() -> None:
    """After the question has lapsed the bird is still not done; the spot is read again."""
    one = done()
    one.say(86, "bird one breast reads 150")
    one.say(95, "lid off")
    assert one.state.pending is None
    assert not bird(one).is_done
    assert "take_off" not in kinds(one)
    (again,) = [prompt for prompt in due(one.state, START_S + 95 * 60) if prompt.kind == "reread"]
    text = sentences.prompt((again,), one.state, START_S + 95 * 60).text
    assert text == "That reading is still in doubt. Read bird 1 breast again."
    last = one.ask(96, "last reading bird one")
    assert isinstance(last, Answer)
    assert "150" in sentences.answer(last, one.state).text  # type: ignore[arg-type]
    assert "in doubt" in sentences.answer(last, one.state).text  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("answers", "is_done"),
    [(("no",), True), (("first",), False), (("second",), False), (("one sixty six",), True),
     (("scratch that",), True)],
)  # fmt: skip
def test_an_answer_settles_it(answers: tuple[str, ...], is_done: bool) -> None:
    one = done()
    asked = one.say(86, "bird one breast reads 150")
    assert isinstance(asked, AskBack)
    if answers == ("second",) and len(asked.options) == 1:
        pytest.skip("only one number was believable")
    for answer in answers:
        one.say(86.3, answer)
    assert bird(one).is_done is is_done
    assert not bird(one).open_doubts


def test_a_later_reading_of_that_spot_settles_it() -> None:
    """Read again at 167 it is done; read again at 151 it is not, and not asked about twice."""
    one = done()
    one.say(86, "bird one breast reads 150")
    one.say(89, "bird one breast reads 167")
    assert bird(one).is_done
    cold = done()
    cold.say(86, "bird one breast reads 150")
    assert isinstance(cold.say(89, "bird one breast reads 151"), Record)
    assert not bird(cold).is_done
    assert not bird(cold).open_doubts


def test_another_spot_does_not_settle_it() -> None:
    one = done()
    one.say(86, "bird one breast reads 150")
    one.say(89, "bird one thigh reads 168")
    one.say(89.5, "bird one wing reads 170")
    assert not bird(one).is_done


def test_an_unclear_number_counts_at_its_coldest() -> None:
    """The ears could not tell 150 from 170: until settled it is 150."""
    one = done()
    low, high = (one.ask(86, f"bird one breast reads {n}") for n in (150, 170))
    assert isinstance(low, AskBack)
    assert isinstance(high, Record)
    one.note(86, ev.AskedBack((high.replies_to, low.options[0]), "unclear"))  # type: ignore[arg-type]
    assert bird(one).coldest_f() == 150.0
    one.say(86.2, "first")
    assert bird(one).is_done


def test_a_correction_is_as_hard_to_believe_as_a_reading() -> None:
    """ "Correction 200" is asked back; until then the reading stands, in doubt."""
    one = insisted((0.0, "birds on"), (40.0, "bird one breast 100"), birds=1)
    asked = one.say(40.5, "correction two hundred")
    assert isinstance(asked, AskBack)
    assert sentences.ask_back(asked, one.state).text.endswith("?")
    assert bird(one).surely_f() == 100.0
    one.say(40.8, "first" if len(asked.options) > 1 else "yes")
    assert bird(one).surely_f() == 200.0


def test_a_doubted_correction_of_a_done_bird_holds_it_back() -> None:
    one = done()
    asked = one.say(85.8, "correction one forty")
    assert isinstance(asked, AskBack)
    assert not bird(one).is_done
    one.say(95, "lid off")
    assert not bird(one).is_done
    assert "reread" in kinds(one)


def test_doubts_are_folded_again_from_the_journal() -> None:
    one = done()
    one.say(86, "bird one breast reads 150")
    assert fold(one.recorded) == one.state


def test_a_raw_bird_off_for_long_is_said_until_answered() -> None:
    """Half an hour off and unfinished: said again and again, and no more once answered."""
    one = insisted((0.0, "birds on"), (40.0, "bird one reads 120"), (41.0, "bird one is off"),
                   birds=1)  # fmt: skip
    said = 0
    for minute in range(42, 200):
        for prompt in due(one.state, START_S + 60 * minute):
            one.note(minute, ev.PromptSaid(prompt.key, prompt.urgency))
            if prompt.kind == "off_raw":
                said += 1
                text = sentences.prompt((prompt,), one.state, START_S + 60 * minute).text
                assert "raw poultry" in text
                assert "120" in text
    assert said > 20
    one.say(200, "got it")
    assert not [p for p in due(one.state, START_S + 60 * 260) if p.kind == "off_raw"]


def test_a_cook_does_not_end_with_a_raw_bird_unasked() -> None:
    """ "End cook" with a bird on, or off and raw, is asked about until answered."""
    one = insisted((0.0, "birds on"), (40.0, "bird one reads 120"), birds=2)
    asked = one.say(50, "end cook")
    assert isinstance(asked, AskBack)
    assert sentences.ask_back(asked, one.state).text == (
        "Bird 1 is at 120 and still on and bird 2 is not read and still on. End?"
    )
    assert one.state.ended_s is None
    later = [p for p in due(one.state, START_S + 60 * 70) if p.kind == "end_raw"]
    assert later
    one.note(70, *(ev.PromptSaid(p.key, p.urgency) for p in later))
    assert [p for p in due(one.state, START_S + 60 * 90) if p.kind == "end_raw"]
    one.say(90, "yes")
    assert one.state.ended_s is not None


def test_a_finished_cook_ends_at_once() -> None:
    one = done()
    one.say(88, "bird one is off")
    assert isinstance(one.say(120, "end cook"), Record)


def test_taken_off_with_a_spot_unread_it_says_so() -> None:
    one = insisted(*DONE[:3], birds=1)
    before = one.state
    off = one.say(86, "bird one is off")
    assert isinstance(off, Record)
    assert sentences.read_back(off, before, one.state).text.endswith("Thigh not read. Read it now.")


def test_no_more_timers_than_anybody_can_follow() -> None:
    """The twenty-first is refused; once one has rung or is cancelled there is room."""
    one = insisted((0.0, "birds on"), birds=1)
    for number in range(20):
        assert isinstance(one.say(1 + number / 10, "set a timer for 30 minutes"), Record)
    refused = one.say(4, "set a timer for 30 minutes")
    assert isinstance(refused, TooManyTimers)
    assert sentences.refusal(refused, one.state).text == (
        "20 timers are running already. Cancel one first."
    )
    one.say(5, "cancel the timer")
    assert isinstance(one.say(6, "set a timer for 30 minutes"), Record)
    assert isinstance(one.say(40, "set a timer for 30 minutes"), Record)
