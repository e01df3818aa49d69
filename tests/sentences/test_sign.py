"""A prompt as a sign: drawn large, so it is short, and never cut where it would mislead."""

from typing import get_args

import pytest

from assistant.cook.vocabulary import prompts as due
from assistant.cook.vocabulary.prompts import About, Prompt
from assistant.sentences.sign import LONGEST, SIGNS, sign


def prompt(about: About) -> Prompt:
    return Prompt(about, (), "soon", 0.0)


def test_every_kind_of_prompt_has_its_sign() -> None:
    assert {kind.KIND for kind in get_args(About)} == SIGNS.keys()


@pytest.mark.parametrize("kind", sorted(SIGNS))
def test_no_sign_is_longer_than_a_terminal_can_draw(kind: str) -> None:
    assert len(SIGNS[kind].format(birds="8")) <= LONGEST


@pytest.mark.parametrize(
    ("birds", "text"),
    [((1,), "BIRD 1 OFF"), ((2, 1), "1 AND 2 OFF"), ((1, 2, 3), "1, 2 AND 3 OFF")],
)
def test_several_birds_share_a_sign_in_their_order(birds: tuple[int, ...], text: str) -> None:
    assert sign([prompt(due.TakeOff(bird)) for bird in birds]) == text


def test_a_sign_of_too_many_birds_keeps_what_to_do() -> None:
    told = sign([prompt(due.Coat(bird)) for bird in range(1, 9)])
    assert told == "RECOAT"


def test_one_timer_is_named_and_several_are_not() -> None:
    rice, bread = prompt(due.TimerUp("rice")), prompt(due.TimerUp("bread"))
    assert sign([rice]) == "RICE TIMER"
    assert sign([rice, bread]) == "TIMER IS UP"
    assert sign([prompt(due.TimerUp(None))]) == "TIMER IS UP"


def test_a_timers_long_name_gives_way_to_what_it_is() -> None:
    assert sign([prompt(due.TimerUp("slow roasted vegetables"))]) == "TIMER IS UP"
