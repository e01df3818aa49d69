"""The reading's error model: a density, one-sided, robust, with true slopes."""

import numpy as np
import pytest

from assistant.heat.bird import probe


@pytest.mark.parametrize("miss_c", [0.4, 3.0, 12.0])
def test_reading_error_is_a_density(miss_c: float) -> None:
    excess = np.linspace(-60.0, 250.0, 60_001)
    density = np.exp(probe.log_likelihood(excess, np.full_like(excess, miss_c)))
    honest = density - probe.WILD_SHARE / probe.WILD_SPAN_C
    assert np.trapezoid(honest, excess) == pytest.approx(1.0 - probe.WILD_SHARE, abs=2e-3)


def test_a_probe_misses_upwards() -> None:
    """Six degrees above the coldest spot is far likelier than six below."""
    above, below = probe.log_likelihood(np.array([6.0, -6.0]), np.array([3.0, 3.0]))
    assert above > below + 2.0


def test_a_wild_reading_pulls_no_more_than_its_share() -> None:
    """Beyond the honest errors the likelihood is flat: such a reading moves nothing."""
    far = probe.slopes(np.array([150.0]), np.array([3.0]), probe.READING_SD_C)
    near = probe.slopes(np.array([8.0]), np.array([3.0]), probe.READING_SD_C)
    assert abs(far.to_core[0]) < 0.01 * abs(near.to_core[0])


@pytest.mark.parametrize("excess_c", [-4.0, -1.0, 0.5, 3.0, 10.0, 30.0])
@pytest.mark.parametrize("miss_c", [0.5, 4.0])
def test_slopes_are_the_derivatives(excess_c: float, miss_c: float) -> None:
    """To the core (which the excess falls with) and to the log of the mean miss."""
    step = 1e-4
    excess, miss = np.array([excess_c]), np.array([miss_c])
    slope = probe.slopes(excess, miss, probe.READING_SD_C)
    core = (
        probe.log_likelihood(excess - step, miss) - probe.log_likelihood(excess + step, miss)
    ) / (2 * step)
    log_miss = (
        probe.log_likelihood(excess, miss * np.exp(step))
        - probe.log_likelihood(excess, miss * np.exp(-step))
    ) / (2 * step)
    np.testing.assert_allclose(slope.to_core, core, atol=1e-4)
    np.testing.assert_allclose(slope.to_log_miss, log_miss, atol=1e-4)
    assert slope.core_curvature[0] >= 0
    assert slope.miss_curvature[0] >= 0
