"""What is said of the program itself: journal, clock, sound, restart, a kept plan."""

from pathlib import Path
from typing import get_args

import pytest

from assistant.cook.state import Cook
from assistant.journal.resilient import Kind
from assistant.sentences import sound
from assistant.sentences.all import (
    came_back,
    clock_moved,
    journal_news,
    plan_left,
    plan_taken_up,
)
from tests.sentences.test_sentences import START, cooking


@pytest.mark.parametrize("kind", get_args(Kind))
def test_every_kind_of_journal_news_is_spoken_in_words_and_printed_in_full(kind: str) -> None:
    text = f"the journal at {Path('home') / 'journal.sqlite3'} cannot be written"
    told = journal_news(kind, text)
    assert told.text == text
    assert told.spoken != text, "a path is never read aloud"
    assert "/" not in told.spoken
    assert told.spoken.endswith(".")


def test_a_kind_without_words_is_read_out_as_it_is() -> None:
    assert journal_news("another", "The journal is new.").spoken == "The journal is new."


@pytest.mark.parametrize(
    ("by_s", "text"),
    [
        (3600.0, "The computer's clock jumped forward by 1 hour. I keep my own count."),
        (-600.0, "The computer's clock jumped back by 10 minutes. I keep my own count."),
    ],
)
def test_a_jump_of_the_clock_is_told_with_its_direction(by_s: float, text: str) -> None:
    assert clock_moved(by_s).text == text


def test_after_a_restart_the_birds_on_the_spit_are_counted() -> None:
    assert came_back(cooking().state, 240.0).text == (
        "Back after 4 minutes. I have everything up to then. 3 on the spit."
    )


def test_where_the_clock_cannot_tell_no_time_is_claimed() -> None:
    assert came_back(Cook(), None).text == "Back. I have everything up to then."


def test_a_kept_plan_for_other_birds_is_left_and_said() -> None:
    assert plan_left(1).text == "The kept plan is for 1 bird. Going on without it."
    assert plan_left(3).text == "The kept plan is for 3 birds. Going on without it."


def test_a_kept_plan_is_taken_up_with_dinner_birds_and_what_comes_first() -> None:
    evening = cooking()
    evening.say(30, "dinner at six thirty")
    told = plan_taken_up(evening.state, START + 31 * 60).text
    assert told.startswith("As planned: dinner at 6:30 in the evening, 3 birds. First ")
    assert told.endswith(".")


def test_microphone_and_speaker_lost_are_told_with_what_to_do() -> None:
    assert "Look at the microphone" in sound.MICROPHONE_LOST.text
    assert sound.other_microphone("USB desk").text == "I listen to another microphone: USB desk."
    assert set(sound.BACK) == {"microphone", "speaker"}


def test_what_may_be_said_while_nothing_works_is_made_before_it_is_needed() -> None:
    assert sound.MICROPHONE_LOST.spoken in sound.fixed_phrases()
    assert all(one.spoken in sound.fixed_phrases() for one in sound.BACK.values())
