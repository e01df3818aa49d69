"""What is said about the fire unasked, in the cook's own words: seldom, once, and never
one way and then the other."""

from itertools import pairwise

from assistant.cook.rules.due import due, prompts
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.prompts import Key
from assistant.sentences import all as sentences
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
