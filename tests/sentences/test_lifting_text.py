"""Birds off, or about to be left: what is unread or under its mark is named, every time."""

import pytest

from assistant.cook.state import Bird
from assistant.sentences.leftovers import leftovers
from assistant.sentences.lifting import (
    before_ending,
    before_lifting,
    none_left,
    not_read,
    off_already,
    where_they_stand,
)
from tests.sentences.test_sentences import Evening, cooking


def read(evening: Evening, minute: float, words: str) -> None:
    """A reading, said to be right where that is asked."""
    evening.say(minute, words)
    if evening.state.pending is not None:
        evening.say(minute, "yes")


def birds_of(evening: Evening, *numbers: int) -> list[Bird]:
    return [bird for bird in evening.state.birds if bird.number in numbers]


@pytest.fixture
def done() -> Evening:
    """Bird 1 read done at both spots, bird 2 at the breast alone, bird 3 not at all."""
    evening = cooking()
    for minute, words in (
        (100, "bird one breast reads one sixty six"),
        (101, "bird one thigh reads one seventy"),
        (102, "bird two breast reads one sixty six"),
    ):
        read(evening, minute, words)
    return evening


def test_a_spot_nobody_read_is_named(done: Evening) -> None:
    assert not_read(birds_of(done, 1)) == ""
    assert not_read(birds_of(done, 2)) == "Thigh not read."
    assert not_read(birds_of(done, 1, 2)) == "Thighs not read."


def test_each_bird_stands_where_it_was_read(done: Evening) -> None:
    told = where_they_stand(done.state.birds, done.state)
    assert told == (
        "bird 1 is still on, bird 2 is still on, thigh not read and bird 3 is not read and still on"
    )


def test_ending_asks_with_where_the_birds_stand(done: Evening) -> None:
    assert before_ending(birds_of(done, 3), done.state) == "Bird 3 is not read and still on. End?"


def test_lifting_under_the_mark_asks_with_number_and_mark() -> None:
    evening = cooking()
    read(evening, 90, "bird one breast reads one fifty four")
    told = before_lifting(birds_of(evening, 1), evening.state)
    assert told == "Bird 1 is at 154, under 165. Off for good?"


def test_none_is_left_before_any_went_on_and_after_all_came_off(done: Evening) -> None:
    assert none_left(Evening().state) == "No bird has gone on yet."
    for number in ("one", "two", "three"):
        done.say(110, f"bird {number} is off")
    told = none_left(done.state)
    assert told.startswith("Birds 1, 2 and 3 are all off.")
    assert "not read" in told, "what is unread is said although all are off"


def test_a_done_bird_that_is_off_rests_till_a_time(done: Evening) -> None:
    done.say(105, "bird one is off")
    assert off_already(1, done.state).startswith("Bird 1 is off. Resting till ")


def test_a_bird_off_and_not_read_at_the_thigh_says_so(done: Evening) -> None:
    done.say(105, "bird two is off")
    assert off_already(2, done.state) == "Bird 2 is off. Thigh not read."


def test_leftovers_count_from_the_first_bird_off_for_the_table(done: Evening) -> None:
    assert leftovers(done.state) == ""
    done.say(105, "bird one is off")
    told = leftovers(done.state)
    assert told == "Leftovers into the cold by 7:45, 2 hours after bird 1 came off."
