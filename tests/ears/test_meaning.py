"""Words as people say them, and the facts they are."""

from dataclasses import replace

import pytest

from assistant.ears.meaning import meant
from assistant.grammar.free.context import Context, tonight
from assistant.grammar.grammar import Names
from assistant.grammar.parse import parse

NAMES = Names(3, ("apricot", "harissa"))
EVENING = tonight(3, NAMES.sauces)


@pytest.mark.parametrize(
    ("said", "canonical"),
    [
        ("bird two's at one eighteen", ["bird two reads one eighteen"]),
        ("far end one's at one forty one", ["bird three reads one forty one"]),
        ("ok so the grill's at three seventy", ["grill is three seventy"]),
        ("got a flare up", ["flare up"]),
        ("bird two reads one eighteen", ["bird two reads one eighteen"]),
        (
            "bird one one eighteen bird two one nineteen and i put eight on",
            ["bird one reads one eighteen", "bird two reads one nineteen", "added eight"],
        ),
        ("harissa one's at one thirty and the lid's on", ["bird two reads one thirty", "lid on"]),
    ],
)  # fmt: skip
def test_what_people_say_is_the_facts_it_means(said: str, canonical: list[str]) -> None:
    found = meant(said, NAMES, EVENING)
    assert found is not None
    assert found.outcome == "accept"
    assert found.facts == tuple(parse(words, NAMES) for words in canonical)


@pytest.mark.parametrize(
    ("known", "bird"),
    [
        ({"spoken": 3}, 3),
        ({"weights_kg": {1: 2.0, 2: 3.0, 3: 2.1}}, None),
    ],
)
def test_this_one_is_the_bird_just_spoken_of(known: dict[str, object], bird: int | None) -> None:
    found = meant("this one's at one eighteen", NAMES, replace(EVENING, **known))  # type: ignore[arg-type]
    assert found is not None
    assert (found.outcome == "accept") == (bird is not None)
    if bird is None:
        assert found.question is not None
    else:
        assert found.facts == (parse("bird three reads one eighteen", NAMES),)


def test_the_big_one_is_known_by_its_weight() -> None:
    known = replace(EVENING, weights_kg={1: 2.0, 2: 3.0, 3: 2.1})
    found = meant("the big one's at one eighteen", NAMES, known)
    assert found is not None
    assert found.facts == (parse("bird two reads one eighteen", NAMES),)


@pytest.mark.parametrize(
    "said",
    [
        "where did you find my sugar",
        "bird one gets chimney tree",  # no sauce of tonight's: one of them, misheard
        "bird one one eighteen and bird two gets chimney tree",
        "kids we will eat in half an hour go and wash your hands",
    ],
)
def test_talk_and_names_misheard_are_no_facts(said: str) -> None:
    assert meant(said, NAMES, Context(3, names=NAMES.sauces)) is None


@pytest.mark.parametrize(
    ("said", "canonical"),
    [
        ("that's a dozen more coals on the fire", "added twelve"),
        ("the gauge on the lid says three fifty", "grill is three fifty"),
    ],
)
def test_words_over_are_forgiven_only_where_all_was_surely_heard(said: str, canonical: str) -> None:
    assert meant(said, NAMES, EVENING) is None
    found = meant(said, NAMES, EVENING, is_sure=True)
    assert found is not None
    assert found.facts == (parse(canonical, NAMES),)


@pytest.mark.parametrize("said", ["the far ends at one sixty three", "harissa birds at eighty six"])
def test_a_plural_may_be_the_same_sound_of_a_bird_that_is(said: str) -> None:
    found = meant(said, NAMES, EVENING)
    assert found is not None
    assert [fact.NAME for fact in found.facts] == ["bird_reading"]
