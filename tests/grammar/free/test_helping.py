"""A refusal says what was understood and what is missing; nothing is taken."""

import pytest

from assistant.grammar.free.context import tonight
from assistant.grammar.free.understand import understand

EVENING = tonight(2, ("apricot", "harissa"))


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("bird one at three fifty", "too hot for a bird"),
        ("bird two needs to get to one sixty", "when it does"),
        ("bird one's either one thirty or one forty i can't read it", "one number"),
        ("set a timer for the corn", "For how long?"),
        ("push dinner back", "By how many minutes?"),
        ("the lid", "on or off?"),
        ("we need six more coals", "when they are on"),
        ("bird nine one thirty", "There are 2 birds tonight"),
        ("bird two's looking good", "I understood bird 2"),
        ("nine hundred", "more than any grill"),
        ("twenty minutes", "not for what"),
        ("bird three weighs", "weighs"),
    ],
)
def test_a_refusal_says_what_is_missing(words: str, said: str) -> None:
    found = understand(words, EVENING)
    assert (found.outcome, found.facts) == ("refuse", ())
    assert found.help is not None
    assert said in found.help


@pytest.mark.parametrize(
    ("words", "question"),
    [
        ("bird one is between one eighteen and one twenty", "What does it read?"),
        ("bird two hit one hundred it's one oh two", "Bird 2, 100 or 102?"),
        ("bird two is on sixty one", "61, Celsius or Fahrenheit?"),
    ],
)
def test_two_ways_to_take_a_number_are_asked_about(words: str, question: str) -> None:
    found = understand(words, EVENING)
    assert (found.outcome, found.question) == ("ask", question)


@pytest.mark.parametrize(
    "words",
    ["put five either side", "put six more coals on", "put bird one down for one twenty two"],
)
def test_a_bare_number_is_no_timer(words: str) -> None:
    found = understand(words, EVENING)
    assert [fact.NAME for fact in found.facts] in (["fuel_added"], ["bird_reading"])


def test_the_other_bird_is_the_one_not_named() -> None:
    found = understand("bird two's one thirty and the other one's one twenty", EVENING)
    assert [getattr(fact, "bird", None) for fact in found.facts] == [2, 1]
