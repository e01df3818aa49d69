"""What the coldest spot does off the heat."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from assistant.heat.bird.carry_over import carry_over

AIR_C = (370.0 - 32.0) / 1.8
DONE_C = (165.0 - 32.0) / 1.8


def test_it_rises_first_and_cools_later() -> None:
    """A 1.7 kg bird off at 165 F peaks within 10 to 40 min and stays above 140 F for
    the first half hour."""
    found = carry_over(DONE_C, 1.7, "chicken", AIR_C, 20.0)
    assert found is not None
    assert 600 < found.peak_s < 2400
    assert found.cool_s is None or found.cool_s > 1800


@settings(max_examples=25, deadline=None)
@given(st.floats(0.5, 6.0), st.floats(55.0, 80.0), st.floats(160.0, 220.0), st.floats(-5.0, 35.0))
def test_ordered_and_bounded(mass_kg: float, core_c: float, air_c: float, out_c: float) -> None:
    """Never below where it was read, never above boiling, low <= usual <= high."""
    found = carry_over(core_c, mass_kg, "chicken", air_c, out_c)
    assert found is not None
    low, usual, high = found.peak_c
    assert core_c <= low <= usual <= high <= 100.0


def test_a_hotter_grill_leaves_more_rise() -> None:
    """More heat stored near the surface, more of it on its way in."""
    gentle, fierce = (carry_over(DONE_C, 1.7, "chicken", air, 20.0) for air in (150.0, 210.0))
    assert gentle is not None
    assert fierce is not None
    assert fierce.peak_c[1] > gentle.peak_c[1]


def test_a_big_bird_holds_its_heat_longer() -> None:
    """A hen is below 140 F long before a turkey."""
    hen, turkey = (carry_over(DONE_C, kg, kind, AIR_C, 20.0) for kg, kind in
                   ((0.57, "hen"), (5.5, "turkey")))  # fmt: skip
    assert hen is not None
    assert turkey is not None
    assert hen.cool_s is not None
    assert hen.cool_s < (turkey.cool_s or 5400.0)
    assert hen.peak_s < turkey.peak_s


def test_a_cold_grill_never_gets_there() -> None:
    """No forecast where the air cannot bring the bird to that temperature."""
    assert carry_over(DONE_C, 1.7, "chicken", 70.0, 20.0) is None


def test_a_solid_roast_rises_more_than_a_hollow_bird() -> None:
    """Same mass and start: the bird's cavity lets heat out."""
    roast, bird = (carry_over(63.0, 2.0, kind, AIR_C, 20.0) for kind in ("roast", "chicken"))
    assert roast is not None
    assert bird is not None
    assert roast.peak_c[1] > bird.peak_c[1]
    assert roast.peak_c[2] == pytest.approx(bird.peak_c[2], abs=0.5)
