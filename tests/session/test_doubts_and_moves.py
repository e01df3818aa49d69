"""A typed cook whose facts are vague, doubted or moved: nothing said is lost."""

import pytest

from assistant.cook.vocabulary import events as ev
from tests.session.test_own_words import Evening


def recorded(cook: Evening, kind: type) -> list[ev.Event]:
    return [one.event for one in cook.session.state.recent if isinstance(one.event, kind)]


@pytest.mark.parametrize(("answer", "count"), [("eight", 8), ("about a dozen", 12), ("one", 1)])
def test_charcoal_nobody_counted_is_on_at_once_and_its_number_asked(
    answer: str, count: float
) -> None:
    cook = Evening()
    assert "How many?" in cook.say("tossed on a few more coals")
    assert [(one.count) for one in cook.session.state.fire.fuel] == [6]
    assert [one.vague for one in recorded(cook, ev.FuelPut)] == [True]
    assert "Taken back" not in cook.say(answer)
    assert [one.count for one in cook.session.state.fire.fuel] == [count]
    assert cook.session.state.pending is None


def test_the_handful_stays_where_the_number_is_never_told() -> None:
    for words in ("no", "bird one's seventy", "lid's off"):
        cook = Evening()
        cook.say("tossed on a few more coals")
        cook.say(words)
        assert [one.count for one in cook.session.state.fire.fuel] == [6]
        assert cook.session.state.pending is None
    cook = Evening()
    cook.say("tossed on a few more coals")
    assert "about 6" in cook.say("scratch that")
    assert not cook.session.state.fire.fuel and cook.session.state.pending is None


def test_a_vent_moves_a_quarter_from_where_it_stood() -> None:
    cook = Evening()
    cook.say("bottom vent half")
    assert "3/4" in cook.say("opened the bottom vent a bit more")
    assert cook.session.state.fire.vents[-1].bottom == 0.75
    cook.say("shut the bottom vent a touch")
    assert cook.session.state.fire.vents[-1].bottom == 0.5


def test_a_vent_nobody_told_of_is_asked_about() -> None:
    cook = Evening()
    cook.say("bottom vent half")
    assert "Top vent at" in cook.say("close the top vent a little")
    assert len(cook.session.state.fire.vents) == 1
    cook.say("two thirds")
    assert cook.session.state.fire.vents[-1].top == pytest.approx(2 / 3)
    assert cook.session.state.fire.vents[-1].bottom == 0.5


def test_resting_takes_the_bird_off_the_heat() -> None:
    cook = Evening()
    assert "Off for good?" in cook.say("bird three is resting")
    assert "off" in cook.say("bird three is resting")
    found = cook.session.state.bird(3)
    assert found is not None and not found.is_on
    assert "off" in cook.say("bird three is resting")
    assert len(recorded(cook, ev.BirdOff)) == 1


def test_carving_ends_the_call_to_carve_and_names_what_was_not_read() -> None:
    cook = Evening()
    assert "still on" in cook.say("carving bird three")
    cook.say("took bird three off")
    said = cook.say("carving bird three now")
    assert "not read" in said and "165" in said and "board" in said
    found = cook.session.state.bird(3)
    assert found is not None and found.carved_s is not None
    cook.say("take that back")
    found = cook.session.state.bird(3)
    assert found is not None and found.carved_s is None


def test_the_time_is_told() -> None:
    assert "It is" in Evening().say("what time is it")


def test_too_hot_and_burning_get_advice_with_its_caution() -> None:
    cook = Evening()
    for words, advice in (
        ("the fire's way too hot", "bottom vent"),
        ("bird two is burning", "Gloves on"),
    ):
        said = cook.say(words)
        assert advice in said and "hot metal" in said
    assert [(one.kind, one.bird) for one in cook.session.state.troubles] == [
        ("fire_too_hot", None), ("burning", 2),
    ]  # fmt: skip


def test_each_doubted_number_of_one_breath_is_asked_in_turn() -> None:
    cook = Evening()
    cook.say("bird one's seventy and bird two's seventy one")
    said = cook.say("bird one's one eighty, bird two's one eighty two and the lid's off")
    assert cook.session.state.fire.lid_is_off
    assert "Bird 1" in said and "Bird 2" not in said
    said = cook.say("no, eighty")
    assert cook.last_f(1) == 80
    assert "Bird 2" in said and "182" in said
    cook.say("eighty two")
    assert (cook.last_f(1), cook.last_f(2)) == (80, 82)
    assert cook.session.state.pending is None


def test_the_second_doubt_is_asked_though_the_first_is_left_unanswered() -> None:
    cook = Evening()
    cook.say("bird one's seventy and bird two's seventy one")
    cook.say("bird one's one eighty and bird two's one eighty two")
    assert "Bird 2" in cook.say("bird three's seventy two")
    assert cook.last_f(3) == 72
    cook.say("eighty two")
    assert cook.last_f(2) == 82


def test_two_numbers_without_a_bird_are_asked_about_one_by_one() -> None:
    cook = Evening()
    said = cook.say("I got seventy in the breast and seventy two in the thigh")
    assert "which bird" in said
    cook.say("two")
    cook.say("bird two")
    found = cook.session.state.bird(2)
    assert found is not None
    assert [(one.spot, one.temperature_f) for one in found.readings] == [
        ("breast", 70), ("thigh", 72),
    ]  # fmt: skip


def test_a_number_with_the_wrong_one_denied() -> None:
    cook = Evening()
    cook.say("bird one is seventy not ninety")
    assert cook.last_f(1) == 70
    said = cook.say("bird one is sixty eight not seventy")
    assert cook.last_f(1) == 68 and "68" in said
    found = cook.session.state.bird(1)
    assert found is not None and len(found.readings) == 1


def test_the_hand_is_known_once_the_motor_is() -> None:
    cook = Evening()
    cook.say("the one on the left is at seventy")
    assert cook.last_f(1) is None and cook.session.state.pending is not None
    cook.say("no")
    assert "left" in cook.say("the motor's on my left")
    cook.say("the one on the right is at seventy one")
    assert cook.last_f(3) == 71


def test_size_place_and_sauce_name_a_bird_in_a_live_cook() -> None:
    cook = Evening()
    for words in ("bird one is four pounds", "bird two is five pounds", "bird three is six pounds"):
        cook.say(words)
    cook.say("the big one's at seventy")
    cook.say("the one by the motor is seventy one")
    cook.say("harissa's seventy two")
    assert [cook.last_f(n) for n in (1, 2, 3)] == [71, 72, 70]


def test_the_reading_moves_to_the_bird_that_was_meant_with_its_number() -> None:
    cook = Evening()
    cook.say("bird one's seventy")
    assert "Bird 2" in cook.say("no, bird two was seventy three")
    assert (cook.last_f(1), cook.last_f(2)) == (None, 73)
