"""Hostile input of every kind is refused in one clear line or taken as it is."""

import pytest

from tests.reliability.fuzz import attack
from tests.reliability.hostile import TARGETS, Target


@pytest.mark.parametrize("target", TARGETS, ids=lambda target: target.name)
def test_hostile_input_breaks_nothing(target: Target) -> None:
    assert attack(target, number=1, inputs=60, shrinks=False) > 20
