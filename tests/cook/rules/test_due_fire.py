"""What is said about the fire unasked, in the cook's own words: seldom, once, and never
one way and then the other."""

from itertools import pairwise

import pytest

from assistant.cook.rules.due import due, prompts
from assistant.cook.rules.due_fire import suggested
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.prompts import Key
from assistant.sentences import all as sentences
from assistant.sentences.all import fire_help
from tests.cook.build import START_S, Evening, insist, insisted

FIRE = ("refuel", "vents", "vents_ask")
SAID = tuple[float, str]

START: tuple[SAID, ...] = (
    (0, "fire is lit"), (1, "added fifty briquettes"), (30, "grill is 380"),
    (45, "birds on"), (46, "dinner at seven thirty"),
)  # fmt: skip
VENTS: tuple[SAID, ...] = ((2, "bottom vent half"), (3, "top vent half"))


def evening(*dials: SAID, told: tuple[SAID, ...] = VENTS, until: float = 130.0) -> Evening:
    """An evening listened to in half minutes, every prompt said when it is due."""
    one, said = insisted(), sorted((*START, *told, *dials))
    for half in range(int(2 * until)):
        minute = half / 2
        while said and said[0][0] <= minute:
            insist(one, *said.pop(0))
        now_s = START_S + 60 * minute
        for prompt in due(one.state, now_s):
            one.note(minute, ev.PromptSaid(prompt.key, prompt.urgency))
    return one


def fire_said(one: Evening) -> list[tuple[float, str]]:
    """(minute, key) of every word about charcoal and vents, in order."""
    return sorted(
        ((at_s - START_S) / 60, record.key)
        for record in one.state.prompts
        for at_s in record.said_s
        if Key.read(record.key).kind in FIRE
    )


def test_nothing_is_said_as_the_birds_go_on_nor_in_the_band() -> None:
    steady = ((60.0, "grill is 372"), (75.0, "grill is 370"), (95.0, "grill is 374"))
    assert fire_said(evening(*steady)) == []


def test_a_sagging_fire_is_told_once_and_not_again_while_unanswered() -> None:
    sags = ((60.0, "grill is 345"), (75.0, "grill is 325"), (86.0, "grill is 315"),
            (97.0, "grill is 305"))  # fmt: skip
    assert len(fire_said(evening(*sags))) == 1


def test_it_is_never_turned_round_within_twenty_minutes() -> None:
    jumps = ((60.0, "grill is 345"), (75.0, "grill is 320"), (82.0, "grill is 420"),
             (93.0, "grill is 440"), (104.0, "grill is 450"))  # fmt: skip
    said = fire_said(evening(*jumps))
    hot = [(minute, "vents:close" in key) for minute, key in said]
    assert hot
    for (first, was), (second, now) in pairwise(hot):
        assert was == now or second - first >= 20.0


def test_vents_nobody_told_of_are_asked_for_once() -> None:
    sags = ((60.0, "grill is 345"), (75.0, "grill is 325"), (120.0, "grill is 300"))
    keys = [key for _, key in fire_said(evening(*sags, told=()))]
    assert keys.count("vents_ask") == 1
    assert not [key for key in keys if key.startswith("vents:")]


def test_a_vent_of_which_only_the_other_was_told_is_asked_for_too() -> None:
    """The top vent half open says nothing of the bottom one."""
    sags = ((60.0, "grill is 345"), (75.0, "grill is 325"))
    keys = [key for _, key in fire_said(evening(*sags, told=((3, "top vent half"),)))]
    assert keys[0] == "vents_ask"
    assert not [key for key in keys if key.startswith("vents:")]


def test_at_most_one_word_an_hour_also_to_a_cook_who_does_what_is_said() -> None:
    """He turns the vent at once and the grill still runs hot: the next word is an hour on."""
    hot = ((60.0, "grill is 440"), (75.0, "grill is 435"), (76.0, "bottom vent a quarter"),
           (98.0, "grill is 430"), (112.0, "grill is 430"), (126.0, "grill is 430"),
           (140.0, "grill is 430"))  # fmt: skip
    minutes = [minute for minute, _ in fire_said(evening(*hot, until=150.0))]
    assert minutes
    assert all(later - first >= 60.0 for first, later in pairwise(minutes))


def test_what_is_not_worth_a_word_is_on_the_board_for_the_cook_who_looks() -> None:
    """One dial under the band since the birds went on is no ground to speak."""
    one = evening((60.0, "grill is 335"), until=62.0)
    assert fire_said(one) == []
    assert fire_help(one.state, START_S + 62 * 60).endswith("may help")


def test_the_board_suggests_nothing_with_the_lid_off_nor_on_an_old_dial() -> None:
    low = (60.0, "grill is 335")
    off = evening(low, (61.0, "lid is off"), until=62.0)
    assert fire_help(off.state, START_S + 62 * 60) == ""
    one = evening(low, until=62.0)
    assert fire_help(one.state, START_S + 80 * 60) == ""


def test_the_board_wants_the_vents_told_where_they_matter() -> None:
    one = evening((60.0, "grill is 430"), told=(), until=62.0)
    assert fire_help(one.state, START_S + 62 * 60) == "vents not told: how far open?"


@pytest.mark.parametrize("dial", [360, 372])
def test_a_grill_in_its_band_and_steady_asks_for_no_vents(dial: int) -> None:
    """The kettle would like to know; the cook has nothing to do about it."""
    one = insisted((0, "fire is lit"), (30, "birds on"), (45, f"grill is {dial}"),
                   (60, f"grill is {dial}"))  # fmt: skip
    now_s = START_S + 62 * 60
    advice = suggested(one.state, now_s)
    assert advice is None or advice.action == "ask"
    assert fire_help(one.state, now_s) == ""


def test_a_cook_who_asks_hears_what_the_board_shows() -> None:
    one = evening((60.0, "grill is 335"), until=62.0)
    answer = one.ask(62, "how is the fire")
    assert isinstance(answer, Answer)
    text = sentences.answer(answer, one.state).text  # type: ignore[arg-type]
    assert "The fire may" in text
    assert text.endswith("or read the dial in ten.")


def test_the_dial_is_not_asked_for_with_the_lid_off() -> None:
    one = insisted((0, "fire is lit"), (30, "birds on"), (41, "lid is off"))
    assert "grill" not in [one.kind for one in prompts(one.state)]


def test_a_grill_out_of_its_band_is_not_said_to_leave_it_later() -> None:
    one = insisted(*START, (60, "grill is 420"))
    answer = one.ask(62, "how is the fire")
    assert isinstance(answer, Answer)
    text = sentences.answer(answer, one.state).text  # type: ignore[arg-type]
    assert "over the band" in text
    assert "leaves the band" not in text


def test_a_fire_nobody_can_read_is_asked_for_and_not_fed_by_the_clock() -> None:
    one = insisted((0, "fire is lit"), (30, "birds on"))
    assert not [one for one in prompts(one.state) if one.kind in FIRE]
