"""Words as people say them, and the one command they are."""

import pytest

from assistant.ears.meaning import meant
from assistant.grammar.grammar import Names
from assistant.grammar.parse import parse

TONIGHT = Names(3, ("apricot", "harissa"))


@pytest.mark.parametrize(
    ("said", "canonical"),
    [
        ("bird two's at one eighteen", "bird two reads one eighteen"),
        ("far end one's at one forty one", "bird three reads one forty one"),
        ("ok so the grill's at three seventy", "grill is three seventy"),
        ("got a flare up", "flare up"),
        ("bird two reads one eighteen", "bird two reads one eighteen"),
    ],
)
def test_what_people_say_is_the_command_it_means(said: str, canonical: str) -> None:
    assert meant(said, TONIGHT, "F") == parse(canonical, TONIGHT)


@pytest.mark.parametrize(
    "said",
    [
        "both birds one thirty",  # two facts
        "this one's at one eighteen",  # which bird?
        "where did you find my sugar",
        "bird one gets chimney tree",  # no sauce of tonight's: one of them, misheard
        "kids we will eat in half an hour go and wash your hands",
    ],
)
def test_several_facts_open_ones_and_talk_are_no_one_command(said: str) -> None:
    assert meant(said, TONIGHT, "F") is None
