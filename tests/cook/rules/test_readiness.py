"""The readiness list, one item at a time."""

import pytest

from assistant.cook.rules.decision import Record
from assistant.cook.rules.readiness import ITEMS, item_at
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer, ListItem
from assistant.cook.vocabulary.refusals import Refusal
from tests.cook.build import Evening, evening


def reading_f(one: Evening, bird: int = 1) -> float:
    found = one.state.bird(bird)
    assert found is not None
    return found.readings[-1].temperature_f


def test_done_skip_and_go_back_move_by_one() -> None:
    one = evening((0, "read the list"), (1, "done"), (2, "skip"), (3, "go back"))
    assert item_at(one.state.readiness) == ITEMS[1]


def test_say_again_gives_the_item_not_the_last_sentence() -> None:
    decision = evening((0, "read the list"), (1, "done")).ask(2, "say again")
    assert isinstance(decision, ListItem)
    assert decision.item == "dry_seasoned"


def test_the_first_item_cannot_be_gone_back_from() -> None:
    one = evening((0, "read the list"), (1, "go back"))
    assert one.state.readiness == 0


def test_every_item_is_reached_and_the_list_ends() -> None:
    one = evening((0, "read the list"), *[(k + 1, "done") for k in range(len(ITEMS))])
    assert item_at(one.state.readiness) is None
    decision = one.ask(30, "skip")
    assert isinstance(decision, Answer)
    assert decision.TOPIC == "no_list"


def test_done_without_a_list_acknowledges_what_was_said() -> None:
    one = evening((0, "birds on"))
    one.note(1, ev.TimerStarted(one.state.at_s, 1.0))
    timer = one.state.timers[0]
    one.note(2, ev.PromptSaid(f"timer:{timer.number}:{timer.set_s:.0f}", "now"))
    decision = one.ask(2.5, "done")
    assert isinstance(decision, Record)
    assert isinstance(decision.events[0], ev.PromptAcknowledged)


def test_an_ice_check_corrects_every_later_reading_and_moves_the_list_on() -> None:
    """34 in ice water is 2 high: 118 becomes 116."""
    one = evening((0, "read the list"), (1, "thermometer reads 34 in ice water"), (2, "birds on"),
                  (42, "bird one reads 118"))  # fmt: skip
    assert one.state.correction_f == -2.0
    assert one.state.readiness == 1
    assert reading_f(one) == 116.0


def test_a_boiling_check_knows_the_altitude() -> None:
    """At 1609 m water boils at 202.3 F: a thermometer reading 204 there is 1.7 high."""
    one = Evening(ev.CookBegan(altitude_m=1609.344))
    one.say(1, "thermometer reads 204 in boiling water")
    assert one.state.correction_f == pytest.approx(-1.7, abs=0.05)


def test_a_true_thermometer_gets_no_correction() -> None:
    one = evening((1, "thermometer reads 32 in ice water"))
    assert one.state.correction_f == 0.0


def test_a_bath_that_cannot_be_right_is_refused_and_changes_nothing() -> None:
    """50 in "ice water" is a bath without ice."""
    one = evening()
    decision = one.say(1, "thermometer reads 50 in ice water")
    assert isinstance(decision, Refusal)
    assert decision.WHY == "bath_doubtful"
    assert one.state.correction_f == 0.0


def test_cautions_stand_where_it_can_hurt() -> None:
    """Raw poultry, charcoal, hot metal."""
    assert {item.key for item in ITEMS if item.caution} == {
        "dry_seasoned", "charcoal", "gloves", "clean_plate",
    }  # fmt: skip
