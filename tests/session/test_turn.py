"""One turn: live and told again, the same words from the same events."""

from assistant.cook.state import Cook
from assistant.cook.vocabulary import events as ev
from assistant.session.turn import Talk, armed, take_in, told

START_S = 1_800_000_000.0


def heard(seq: int, at_s: float, outcome: str) -> ev.Recorded:
    return ev.Recorded(seq, at_s, ev.WordsHeard("something", 0.5, outcome))


def began() -> Talk:
    return take_in(Talk(Cook()), [ev.Recorded(1, START_S, ev.CookBegan())])


def test_misses_count_in_a_row_and_a_word_understood_ends_them() -> None:
    talk = began()
    said = []
    for k, outcome in enumerate(("refuse", "refuse", "accept", "refuse")):
        group = [heard(2 + k, START_S + 10.0 * k, outcome)]
        before, talk = talk, take_in(talk, group)
        said.append(told(before, talk, group))
    assert [one and one.sentence.text.split(".")[0] for one in said[:1]] == ["Not understood"]
    assert said[2] is None
    assert said[3] == said[0] != said[1]


def test_a_timer_said_long_after_it_was_armed_says_how_late() -> None:
    """The clock was set to 10 minutes; the laptop slept till the twentieth."""
    timer = ev.Recorded(2, START_S, ev.TimerStarted(START_S + 600.0, 10.0, "rice"))
    talk = armed(take_in(began(), [timer]))
    assert talk.armed_s == START_S + 600.0
    key = f"timer:1:{START_S:.0f}"
    group = [ev.Recorded(3, START_S + 1200.0, ev.PromptSaid(key, "now"))]
    said = told(talk, take_in(talk, group), group)
    assert said is not None
    assert said.sentence.text == "10 minutes late. Rice timer is up."
    in_time = [ev.Recorded(3, START_S + 601.0, ev.PromptSaid(key, "now"))]
    said = told(talk, take_in(talk, in_time), in_time)
    assert said is not None
    assert said.sentence.text == "Rice timer is up."


def test_a_prompt_of_other_rules_is_told_by_its_name() -> None:
    """An old journal may hold a prompt that is no longer computed."""
    talk = began()
    group = [ev.Recorded(2, START_S + 60.0, ev.PromptSaid("turn_over:1:2", "soon"))]
    said = told(talk, take_in(talk, group), group)
    assert said is not None
    assert (said.sentence.text, said.why) == ("Turn over.", "turn_over")
