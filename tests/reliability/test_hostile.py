"""Hostile input of every kind is refused in one clear line or taken as it is."""

from types import SimpleNamespace

import pytest
from hypothesis import strategies as st

from tests.reliability import fuzz
from tests.reliability.fuzz import attack
from tests.reliability.hostile import TARGETS, Target


@pytest.mark.parametrize("target", TARGETS, ids=lambda target: target.name)
def test_hostile_input_breaks_nothing(target: Target) -> None:
    assert attack(target, number=1, inputs=60, shrinks=False) > 20


def test_a_slow_target_is_left_when_its_turn_is_over() -> None:
    seen: list[int] = []
    slow = Target("slow", st.integers(), seen.append)
    assert attack(slow, number=1, seconds=-1.0) == 0
    assert not seen


def test_what_breaks_is_shrunk_after_the_turn_is_over(monkeypatch: pytest.MonkeyPatch) -> None:
    """Else the least input would seem to pass, and the break to be flaky."""
    now = iter([0.0, 0.0])
    monkeypatch.setattr(fuzz, "time", SimpleNamespace(monotonic=lambda: next(now, 60.0)))

    def break_on(number: object) -> None:
        raise ValueError(number)

    with pytest.raises(ValueError) as raised:  # noqa: PT011 -- what it names is looked at
        attack(Target("broken", st.integers(), break_on), number=1, seconds=1.0)
    assert raised.value.args == (0,)
