"""A sauce told in passing is never lost, and nothing else is taken for one."""

import pytest

from assistant.cook.vocabulary.commands import (
    AskWhen,
    BirdSauce,
    BirdSkin,
    BirdsOff,
    BirdsOn,
    BirdWeight,
    Sauced,
)
from assistant.grammar.free.context import tonight
from assistant.grammar.free.open_facts import Fact
from assistant.grammar.free.understand import understand

FOUR_1 = BirdWeight(1, pounds=4.0)


@pytest.mark.parametrize(
    ("words", "facts"),
    [
        ("bird one is four pounds with honey glaze", (FOUR_1, BirdSauce(1, "honey"))),
        ("bird one four pounds with garlic butter", (FOUR_1, BirdSauce(1, "garlic butter"))),
        ("bird one weighs four pounds and gets honey", (FOUR_1, BirdSauce(1, "honey"))),
        ("bird one weighs four pounds and bird two gets butter", (FOUR_1, BirdSauce(2, "butter"))),
        ("bird one weighs four pounds with no sauce", (FOUR_1, BirdSauce(1, "plain"))),
        ("both get honey", (BirdSauce(1, "honey"), BirdSauce(2, "honey"))),
        ("both birds get sumac glaze", (BirdSauce(1, "sumac"), BirdSauce(2, "sumac"))),
        ("all stay plain", (BirdSauce(1, "plain"), BirdSauce(2, "plain"))),
        ("no sauce on either", (BirdSauce(1, "plain"), BirdSauce(2, "plain"))),
        ("neither gets any sauce", (BirdSauce(1, "plain"), BirdSauce(2, "plain"))),
        ("bird one is five pounds with skin on", (BirdSkin(1, "on"),)),
        ("how long have we got", (AskWhen(),)),
        (
            "bird two is one pound four with lemon",
            (BirdWeight(2, pounds=1.0, ounces=4.0), BirdSauce(2, "lemon")),
        ),
        ("sauced one and two", (Sauced(1), Sauced(2))),
        ("brushed birds two and one", (Sauced(2), Sauced(1))),
        ("the spit's out", (BirdsOff(),)),
        ("lifted the whole spit out", (BirdsOff(),)),
        ("put the spit back in", (BirdsOn(),)),
    ],
)
def test_what_is_told_beside_the_weight_or_of_all(words: str, facts: tuple[Fact, ...]) -> None:
    meant = understand(words, tonight(2, ()))
    assert (meant.outcome, meant.facts) == ("accept", facts)


@pytest.mark.parametrize("words", ["they get hot", "both get done", "all get another coat soon"])
def test_what_is_no_sauce_names_none(words: str) -> None:
    meant = understand(words, tonight(2, ()))
    assert not any(isinstance(fact, BirdSauce) for fact in meant.facts)
