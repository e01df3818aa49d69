"""A day of readings costs no memory and no descriptors."""

import sys

import pytest

from tests.reliability import long_life


@pytest.mark.slow
@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="memory is read from /proc")
def test_a_day_of_readings_holds_memory_and_descriptors_flat() -> None:
    hours = long_life.live(24, real=False)
    assert long_life.growth_per_hour(hours) < 0.01
    assert hours[-1].descriptors == hours[0].descriptors
