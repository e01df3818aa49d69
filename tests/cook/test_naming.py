"""No name of a sauce, a timer or a cook makes the program say that food is safe."""

import ast
from pathlib import Path

import pytest

from assistant.app import plan, settings
from assistant.app.begin import begin_event
from assistant.cook.naming import WHY, claims
from assistant.cook.rules.decision import Record
from assistant.cook.vocabulary import events as ev
from assistant.cook.vocabulary.refusals import ClaimingName
from assistant.grammar.grammar import Names
from assistant.sentences import all as sentences
from tests.cook.build import Evening, evening
from tests.reliability.checks import SAFE

ROOT = Path(__file__).parents[2]
COOKING = ((0.0, "birds on"), (40.0, "grill is 370"))


@pytest.mark.parametrize(
    ("name", "claiming"),
    [("safe to eat", True), ("Completely SAFE", True), ("safely", True), ("unsafe", True),
     ("edible", True), ("sáfe", False), ("apricot", False), ("saffron", False),
     ("rosa fennel", False), ("vouchsafe", False)],
)  # fmt: skip
def test_what_claims(name: str, claiming: bool) -> None:
    assert claims(name) is claiming


@pytest.mark.parametrize(
    "words", ["bird one gets safe sauce", "set a chicken is safe timer for 5 minutes",
              "remind me in ten minutes about the safe chicken"],
)  # fmt: skip
def test_a_name_that_claims_is_refused(words: str) -> None:
    decision = evening(*COOKING).ask(50, words)
    assert isinstance(decision, ClaimingName)
    assert not SAFE.search(sentences.refusal(decision, evening(*COOKING).state).text)


def test_a_name_in_an_old_journal_is_not_said() -> None:
    """A sauce and a timer that claim, from a file, are told without their names."""
    one = Evening(ev.CookBegan(birds=1, sauces=(("safe to eat", "some"),)))
    one.say(0, "birds on")
    one.note(1, ev.SauceAssigned(1, "safe to eat"), ev.TimerStarted(1.0, 1.0, "safe chicken"))
    bird = one.state.bird(1)
    assert bird is not None
    assert not SAFE.search(f"{bird.sauce} {one.state.timers[-1].name} {one.state.sauces}")
    off = one.say(2, "bird one sauced")
    assert isinstance(off, Record)
    assert not SAFE.search(sentences.read_back(off, one.state, one.state).text)


def test_no_setting_option_or_plan_takes_such_a_name() -> None:
    with pytest.raises(settings.SettingsError, match="may not say"):
        settings.parse('[sauces]\n"safe to eat" = "some"\n')
    with pytest.raises(settings.SettingsError, match="may not say"):
        begin_event(2, "safe dinner")
    with pytest.raises(settings.SettingsError, match="may not say"):
        begin_event(2, None, "apricot, safe one")
    with pytest.raises(ValueError, match="may not say"):
        Names(2, ("safe one",))
    with pytest.raises(ValueError, match="may not say"):
        plan.parse_side("safe potatoes 45 min")


@pytest.mark.parametrize(
    "text",
    [
        "Bird 1 is safe.",
        "So the food is completely safe.",
        "Safe to eat.",
        "It can't be unsafe now",
        "So the food is completely safe",
        "Food safety is assured.",
        "Bird 2 is fit to eat.",
        "Ready to eat now.",
        "All bacteria are dead.",
        "Nothing in it can't harm anyone: it won't make you ill.",
        "165 at both spots: no risk.",
    ],
)
def test_the_check_of_sentences_sees_a_claim(text: str) -> None:
    assert SAFE.search(text)


@pytest.mark.parametrize(
    "text",
    [
        "Bird 1 reads 165 or more at breast and thigh. Gloves on, take it off.",
        "Raw poultry: wash hands.",
        "Dinner is at seven; ready at ten to.",
        "Saffron on bird 2.",
    ],
)
def test_the_check_of_sentences_lets_plain_facts_through(text: str) -> None:
    assert not SAFE.search(text)


def test_no_sentence_of_the_program_claims_it() -> None:
    """Every piece of text in the rooms that speak and show, but for what documents them."""
    found = 0
    for room in ("sentences", "board", "lookback", "cook"):
        for file in (ROOT / "assistant" / room).rglob("*.py"):
            tree = ast.parse(file.read_text(encoding="utf-8"))
            documents = {id(one.value) for one in ast.walk(tree) if isinstance(one, ast.Expr)}
            for node in ast.walk(tree):
                if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
                    continue
                text = node.value
                for other in ("'unsafe-inline'", "never that food is safe"):
                    text = text.replace(other, "")  # a browser's word; the caution itself
                if " " in text and id(node) not in documents and text != WHY:
                    found += 1
                    assert not SAFE.search(text), f"{file.name}: {text!r}"
    assert found > 500
