"""Typed words, as the first pages show them."""

import pytest

from assistant.session.typed import heard_typed


@pytest.mark.parametrize("opening", ["turnspit, ", "Turnspit ", "  turnspit "])
def test_a_typed_line_may_open_with_the_address_word(opening: str) -> None:
    plain = heard_typed("bird 1 weighs 5 lb 8 oz", "F")
    assert plain.command is not None
    assert heard_typed(f"{opening}bird 1 weighs 5 lb 8 oz", "F").command == plain.command


def test_a_word_that_only_begins_like_it_is_not_the_address_word() -> None:
    assert heard_typed("turnspits birds on", "F").command is None


def test_a_cooks_own_address_word_is_taken_off() -> None:
    """It is set in cook.toml; the usual one then is a word like others."""
    own = heard_typed("copper kettle, birds on", "F", address="copper kettle")
    assert own.command is not None
    assert heard_typed("turnspit, birds on", "F", address="copper kettle").command is None
