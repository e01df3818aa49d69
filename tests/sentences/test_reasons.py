"""Every prompt has words, a short name and a reason."""

import re
from dataclasses import fields
from typing import Any, get_args

import pytest

from assistant.cook.vocabulary import commands as cmd
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.answers import Answer
from assistant.cook.vocabulary.prompts import About, ClockAsked, EndRaw, LiftAsked, Prompt
from assistant.heat.bird.evidence import Quantiles
from assistant.sentences import all as sentences
from assistant.sentences.prompting import SHORT, short
from assistant.sentences.reasons import hold_advice, why_prompt
from assistant.sentences.sign import SIGNS
from tests.cook.build import START_S, Evening, insisted

COOKING = ((0.0, "bird one gets harissa"), (0.0, "fire is lit"), (30.0, "grill is 370"),
           (31.0, "birds on"), (60.0, "bird one reads 90"))  # fmt: skip
FACTS: dict[str, Any] = {
    "sooner": False, "table_s": None,
    "bird": 1, "birds": (1,), "spot": "breast", "spots": ("thigh",), "reason": "done",
    "count": 12, "out_s": START_S, "direction": "open", "by": 0.25,
    "late_min": 20, "table": Quantiles(START_S, START_S + 60, START_S + 120),
    "open_vent": False, "by_s": START_S, "name": None,
}  # fmt: skip


@pytest.mark.parametrize("kind", get_args(About), ids=lambda kind: kind.KIND)
def test_every_prompt_has_a_sentence_a_short_name_a_sign_and_a_reason(kind: type[About]) -> None:
    one = insisted(*COOKING)
    if kind is EndRaw:  # its sentence is the open question
        one.say(61, "end the cook")
    if kind is ClockAsked:
        one.note(61, ev.AskedBack((), "clock_behind", -7200.0))
    if kind is LiftAsked:
        one.note(61, ev.AskedBack((cmd.BirdsOff(1),), "below_mark"))
    about = kind(**{field.name: FACTS[field.name] for field in fields(kind)})
    prompt = Prompt(about, ("1",), "soon", one.state.at_s)
    said = sentences.prompt((prompt,), one.state, one.state.at_s)
    assert len(said.text) > 8
    assert "_" not in said.text
    assert kind.KIND in SHORT
    assert kind.KIND in SIGNS
    assert "_" not in short((prompt,))
    reason = why_prompt(kind.KIND, one.state)
    assert reason.startswith("Because")
    assert reason != "Because it is due."


def test_why_after_a_prompt_asks_about_the_prompt() -> None:
    one = insisted((0, "remind me in one minute"))
    timer = one.state.timers[0]
    one.note(1, ev.PromptSaid(f"timer:{timer.number}:{timer.set_s:.0f}", "now"))
    decision = one.ask(1.5, "why")
    assert isinstance(decision, Answer)
    assert sentences.answer(decision, one.state).text == "Because you asked me to."  # type: ignore[arg-type]


def test_why_long_after_asks_about_the_birds() -> None:
    one = insisted(*COOKING)
    one.note(61, ev.PromptSaid("grill:0", "convenient"))
    decision = one.ask(70, "why")
    assert isinstance(decision, Answer)
    assert decision.TOPIC == "why"


def test_birds_left_come_in_the_order_they_will_be_off() -> None:
    """The light one first, though it stands far from the motor."""
    one = insisted((0, "bird one weighs 6 lb"), (0, "bird two weighs 3 lb"), (1, "birds on"))
    decision = one.ask(30, "how many left")
    assert isinstance(decision, Answer)
    assert sentences.answer(decision, one.state).text == "2 left, off in this order: 2 and 1."  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("said", "advice"),
    [(((0.0, "birds on"),), "not under 325"),
     (((0.0, "birds on"), (85.0, "bird one breast 167"), (85.4, "bird one thigh 168"),
       (86.0, "bird one is off")), "above 140"),
     ((), "")],
)  # fmt: skip
def test_late_guests_get_the_trades_answer(
    said: tuple[tuple[float, str], ...], advice: str
) -> None:
    """Birds on: slower, but not under the published oven minimum; done ones kept hot."""
    one = insisted(*said)
    assert advice in hold_advice(one.state)
    assert bool(advice) == bool(hold_advice(one.state))


def spoken(one: Evening, minute: float, words: str) -> str:
    decision = one.ask(minute, words)
    assert isinstance(decision, Answer)
    return sentences.answer(decision, one.state).text  # type: ignore[arg-type]


def test_when_before_the_birds_are_on_is_the_plan() -> None:
    one = insisted((0, "bird one weighs 3.5 lb"), (1, "dinner at nine"))
    assert re.fullmatch(
        r"By the plan birds on at \d+:\d\d, off about \d+:\d\d, give or take \d+ minutes\."
        r" Dinner at 9:00\.",
        spoken(one, 2, "when is dinner ready"),
    )


def test_when_is_dinner_gives_the_table_first_then_each_bird() -> None:
    one = insisted(
        (0, "dinner at seven"), (0, "bird two gets plain"), *COOKING, (70, "bird two reads 95")
    )
    assert re.fullmatch(
        r"Dinner about \d:\d\d, give or take \d+ minutes\."
        r" Off: bird 1 \d:\d\d and bird 2 \d:\d\d\.",
        spoken(one, 71, "when is dinner ready"),
    )
