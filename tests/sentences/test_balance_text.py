"""The balance aid in words, against moments worked by hand."""

import pytest

from assistant.sentences.balance_text import balance_text


def test_worked_by_hand() -> None:
    """200 g at 15 cm turning the spit by 45 degrees: 3 kg cm; 200 g opposite, or a 2 kg
    bird by 1.5 cm."""
    text = balance_text("200 g", "15 cm", 45.0, "2 kg")
    assert text.splitlines() == [
        "Heavy side: 3.00 kg cm.",
        "Hang 7.1 oz (200 g) at 15 cm opposite the heavy side,",
        "or move the 2 kg bird 0.6 in (1.5 cm) toward the light side.",
    ]


def test_without_a_bird_only_the_counterweight() -> None:
    assert balance_text("8 oz", "6 in", 45.0, None).endswith("opposite the heavy side.")


def test_a_spit_that_follows_the_trial_weight_is_near_enough() -> None:
    """89 degrees: the trial weight outweighs the heavy side by far."""
    assert balance_text("100 g", "5 cm", 89.0, None).startswith("Near enough")


@pytest.mark.parametrize(
    ("trial", "radius", "turned", "says"),
    [("8", "6 in", 40.0, "is not a weight"), ("8 oz", "six", 40.0, "is not a length"),
     ("8 oz", "6 in", 0.0, "quarter turn"), ("8 oz", "6 in", 120.0, "quarter turn")],
)  # fmt: skip
def test_what_cannot_be(trial: str, radius: str, turned: float, says: str) -> None:
    with pytest.raises(ValueError, match=says):
        balance_text(trial, radius, turned, None)
