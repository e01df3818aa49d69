"""What a reading would say: the measure of what was heard."""

import math

import numpy as np
import pytest

from assistant.heat.bird.density import (
    UNKNOWN_BIRD,
    ReadingDensity,
    air_density,
    core_density,
    last_moment_s,
)
from tests.heat.bird.scenes import bird, celsius, evening

TOLD = evening(bird((40.0, 80.0), (52.0, 101.0)))


def test_log_density_integrates_to_one() -> None:
    density = ReadingDensity(50.0, 4.0)
    grid = np.linspace(-120.0, 220.0, 34_001)
    values = [math.exp(density.log_pdf(float(t))) for t in grid]
    assert np.trapezoid(values, grid) == pytest.approx(1.0, abs=0.01)


def test_a_likely_reading_is_likelier_than_its_misheard_neighbour() -> None:
    """One thirteen and one thirty, after 101 F six minutes ago."""
    density = core_density(TOLD, 1, 58.0 * 60.0)
    assert density.log_pdf(celsius(113.0)) > density.log_pdf(celsius(130.0)) + 1.0
    assert density.log_pdf(celsius(113.0)) > density.log_pdf(celsius(150.0)) + 2.0


def test_nothing_is_impossible() -> None:
    density = core_density(TOLD, 1, 58.0 * 60.0)
    assert density.log_pdf(celsius(400.0)) > -10.0


def test_the_middle_rises_with_time() -> None:
    near, far = (core_density(TOLD, 1, 60.0 * m).middle_c for m in (54.0, 68.0))
    assert near + 5.0 < far


def test_tail_probability_is_one_in_the_middle_and_small_far_out() -> None:
    density = core_density(TOLD, 1, 58.0 * 60.0)
    assert density.tail_probability(density.middle_c) == pytest.approx(1.0)
    assert density.tail_probability(celsius(400.0)) < 1e-3


def test_an_unknown_bird_may_read_anything() -> None:
    assert core_density(TOLD, 9, 3000.0) == ReadingDensity(*UNKNOWN_BIRD)


def test_the_grill_is_expected_near_its_last_reading() -> None:
    density = air_density(TOLD, 300.0)
    assert density.middle_c == pytest.approx(celsius(370.0), abs=5.0)
    assert density.scale_c < air_density(TOLD, 9000.0).scale_c


def test_the_last_moment_on_record() -> None:
    assert last_moment_s(TOLD) == 52.0 * 60.0
    assert last_moment_s(evening(grill=())) == -math.inf
