"""A day of readings costs no memory and no descriptors."""

import os
import sys

import pytest

from assistant.ears.heard import Heard
from assistant.session.session import Session
from tests.reliability import long_life


@pytest.mark.slow
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="memory is read from /proc")
def test_a_day_of_readings_holds_memory_and_descriptors_flat() -> None:
    hours = long_life.live(24, real=False)
    assert long_life.growth_per_reading_kb(hours) < long_life.MOST_KB
    assert hours[-1].descriptors == hours[0].descriptors


@pytest.mark.slow
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="memory is read from /proc")
def test_twenty_kilobytes_a_reading_are_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    kept: list[bytes] = []
    hear = Session.hear

    def leaking(self: Session, heard: Heard) -> None:
        kept.append(os.urandom(20_000))
        hear(self, heard)

    monkeypatch.setattr(Session, "hear", leaking)
    hours = long_life.live(6, real=False)
    assert long_life.growth_per_reading_kb(hours) > long_life.MOST_KB
